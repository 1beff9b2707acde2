/**
 * A plate that tilts over a film: gas is pressed from the side that comes down to the side that goes up, and out at all edges.
 *
 * The film equation of squeeze-film.ts with a source that grows from the axis of the tilt: sine series along the arm, each term solved
 * along the axis, derived here. Of a plate long in the direction of the axis it is mu W L^5/(60 h^3), a strip's by two integrations. Validity as in
 * squeeze-film.ts. Error of the sums 1e-9. Main test: tilting-film.test.ts.
 */
import { type RectangularFilm, requirePositive, requireThinFilm } from "./gas-film.ts";
import { meanFilmMoment } from "./reynolds-response.ts";
import { type FilmVibration, openingResistance, type PlateOpenings, squeezeNumber } from "./squeeze-film.ts";

/** Moment of a film on a plate that tilts to and fro: -damping × angular velocity - stiffness × angle. */
export interface FilmMoment {
  /** [N m s/rad] */
  readonly damping: number;
  /** [N m/rad] */
  readonly stiffness: number;
}

/**
 * Moment of a film whose `length` runs square to the axis of the tilt, through the middle. Compressed isothermally where a vibration is
 * given; with openings all gas goes through them and out at the edges, and is not compressed.
 */
export function tiltingFilm(
  film: RectangularFilm,
  options: { readonly vibration: FilmVibration } | { readonly openings: PlateOpenings },
): FilmMoment {
  requireThinFilm(film);
  const { length, width, gap, viscosity } = film;
  const spreading = (12 * viscosity) / gap ** 3;
  const scale = spreading * length * width;
  if ("openings" in options) {
    const leak = spreading / openingResistance(options.openings, film);
    return { damping: scale * meanFilmMoment(film, { re: leak, im: 0 }).re, stiffness: 0 };
  }
  const { vibration } = options;
  requirePositive({ ...vibration }, "the moment of a film");
  const number = squeezeNumber(film, vibration) / Math.min(length, width) ** 2;
  const mean = meanFilmMoment(film, { re: 0, im: number });
  return { damping: scale * mean.re, stiffness: -scale * vibration.angularFrequency * mean.im };
}
