/**
 * Squeeze films: gas pressed out from between two faces that approach each other.
 *
 * Incompressible: c = f mu L W³/h³ [bao2005], exact for the film equation. Compressible: damping and spring of the isothermal film at
 * ambient pressure, [blech1983] FROM MEMORY, summed as one complex series. Leaky: plates with slits or holes after the modified film
 * equation of [bao2003] FROM MEMORY; the formula for slits is derived here alike.
 * Validity: motion small against the gap (a tenth of it stiffens the film by some 2 %), gap at most a quarter of the smaller size (refused
 * beyond), no inertia: gap below the depth sqrt(2 mu/(rho omega)) of viscous waves. Ideal edges at ambient pressure: real ones make the
 * film stronger, see `lengthenedFilm`. Facing side walls of neighbouring legs are such a film, their height its width.
 * Error of the sums 1e-9. Main test: squeeze-film.test.ts.
 */

import { type RectangularFilm, requirePositive, requireThinFilm } from "./gas-film.ts";
import { meanFilmPressure } from "./reynolds-response.ts";

/** Damping coefficient [N s/m] of a face that moves square to the film, without compression. */
export function squeezeFilmDamping(film: RectangularFilm): number {
  requireThinFilm(film);
  const { length, width, gap, viscosity } = film;
  return ((12 * viscosity) / gap ** 3) * length * width * meanFilmPressure(film, { re: 0, im: 0 }).re;
}

/** A circular film: radius and gap [m], viscosity [Pa s]. */
export interface CircularFilm {
  readonly radius: number;
  readonly gap: number;
  readonly viscosity: number;
}

/** Damping coefficient [N s/m] of a disc without compression: 3 pi mu R⁴/(2 h³). */
export function circularFilmDamping(film: CircularFilm): number {
  const { radius, gap, viscosity } = film;
  requireThinFilm({ length: 2 * radius, width: 2 * radius, gap, viscosity });
  return (3 * Math.PI * viscosity * radius ** 4) / (2 * gap ** 3);
}

/** Vibration of a film: angular frequency [rad/s] and the ambient pressure [Pa] that the gas springs against. */
export interface FilmVibration {
  readonly angularFrequency: number;
  readonly pressure: number;
}

/** Squeeze number 12 mu omega W²/(p h²), W the smaller size: far below 10 the film only damps, far above it is a spring. */
export function squeezeNumber(film: RectangularFilm, vibration: FilmVibration): number {
  requireThinFilm(film);
  requirePositive({ ...vibration }, "the squeeze number");
  const smaller = Math.min(film.length, film.width);
  return (12 * film.viscosity * vibration.angularFrequency * smaller ** 2) / (vibration.pressure * film.gap ** 2);
}

/** Force of a film on a vibrating face: -damping × velocity - stiffness × displacement. */
export interface FilmForce {
  /** [N s/m] */
  readonly damping: number;
  /** [N/m] */
  readonly stiffness: number;
}

/** Damping and stiffness of a film whose gas is compressed isothermally. */
export function compressibleSqueezeFilm(film: RectangularFilm, vibration: FilmVibration): FilmForce {
  const number = squeezeNumber(film, vibration);
  const { length, width, gap, viscosity } = film;
  const smaller = Math.min(length, width);
  const mean = meanFilmPressure(film, { re: 0, im: number / smaller ** 2 });
  const scale = ((12 * viscosity) / gap ** 3) * length * width;
  return { damping: scale * mean.re, stiffness: -scale * vibration.angularFrequency * mean.im };
}

/** Openings through a plate over a film, all of one kind. */
export type PlateOpenings =
  | {
      readonly kind: "slits";
      /** Width of a slit, and its period [m]. */
      readonly width: number;
      readonly period: number;
      /** Thickness of the plate [m]. */
      readonly thickness: number;
    }
  | {
      readonly kind: "round holes";
      /** Radius of a hole [m]; each belongs to an area period² of the plate. */
      readonly radius: number;
      readonly period: number;
      readonly thickness: number;
    };

/**
 * Resistance of the openings [Pa s/m]: mean pressure over velocity where all gas goes up through them, the film between them included.
 * Slits: 12 mu t p/s³ with t longer by 8 s/(3 pi) for the ends, + mu b³/(h³ p) for the bar b = p - s.
 * Holes: 8 mu t/(beta² r²) with t longer by 3 pi r/8, + (3 mu c²/2h³) K(beta), beta = r/c, pi c² = p²,
 * K = 4 beta² - beta⁴ - 4 ln beta - 3 [bao2003] FROM MEMORY.
 */
export function openingResistance(openings: PlateOpenings, film: { readonly gap: number; readonly viscosity: number }): number {
  const { period, thickness } = openings;
  const { gap, viscosity } = film;
  requirePositive({ period, thickness, gap, viscosity }, "the flow through openings");
  const across = openings.kind === "slits" ? openings.width : 2 * openings.radius;
  if (!(across > 0 && across < period))
    throw new RangeError(
      `Cannot tell the flow through openings: wanted an opening within the period ${period} m, found ${across} m`,
    );
  if (openings.kind === "slits") {
    const channel = thickness + (8 * across) / (3 * Math.PI);
    return (12 * viscosity * channel * period) / across ** 3 + (viscosity * (period - across) ** 3) / (gap ** 3 * period);
  }
  const { radius } = openings;
  const channel = thickness + (3 * Math.PI * radius) / 8;
  const cell = period / Math.sqrt(Math.PI);
  const beta = radius / cell;
  const spread = 4 * beta ** 2 - beta ** 4 - 4 * Math.log(beta) - 3;
  return (8 * viscosity * channel) / (beta * radius) ** 2 + ((3 * viscosity * cell ** 2) / (2 * gap ** 3)) * spread;
}

/**
 * Damping coefficient [N s/m] of a plate with openings over a film: gas leaves through them and at the plate's edges. Film of the
 * outer sizes of the plate. Validity: many periods on the plate, slits or holes open to ambient pressure above.
 */
export function leakyFilmDamping(film: RectangularFilm, openings: PlateOpenings): number {
  requireThinFilm(film);
  if (!(openings.period <= Math.min(film.length, film.width) / 4)) {
    throw new RangeError(
      `Cannot smear the openings over the plate: wanted four periods or more on it, found a period of ${openings.period} m`,
    );
  }
  const resistance = openingResistance(openings, film);
  const spreading = (12 * film.viscosity) / film.gap ** 3;
  return spreading * film.length * film.width * meanFilmPressure(film, { re: spreading / resistance, im: 0 }).re;
}
