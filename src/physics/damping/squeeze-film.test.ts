import { describe, expect, it } from "vitest";
import { lengthenedFilm } from "./gas-film.ts";
import { meanFilmPressure } from "./reynolds-response.ts";
import {
  circularFilmDamping,
  compressibleSqueezeFilm,
  leakyFilmDamping,
  openingResistance,
  type PlateOpenings,
  squeezeFilmDamping,
  squeezeNumber,
} from "./squeeze-film.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const viscosity = 1.8e-5;

describe("incompressible film", () => {
  // Series of the film equation [bao2005], ten digits.
  it.each([
    [1, 0.4217310449],
    [0.5, 0.6860450314],
    [0.1, 0.9369751124],
  ])("width over length %d: f = %d", (ratio, factor) => {
    const film = { length: 1e-3, width: ratio * 1e-3, gap: 5e-6, viscosity };
    expect(relative(squeezeFilmDamping(film), (factor * viscosity * 1e-3 * film.width ** 3) / film.gap ** 3)).toBeLessThan(1e-8);
    expect(
      relative(squeezeFilmDamping({ ...film, length: film.width, width: film.length }), squeezeFilmDamping(film)),
    ).toBeLessThan(1e-8);
  });

  it("is mu L W³/h³ for a long strip, as between the side walls of neighbouring legs", () => {
    const walls = { length: 800e-6, width: 40e-6, gap: 10e-6, viscosity };
    // Two ends of a strip take off 0.63 widths of length: 1 - 0.63 W/L.
    expect(relative(squeezeFilmDamping(walls), viscosity * 800e-6 * 4 ** 3 * (1 - 0.63 * 0.05))).toBeLessThan(1e-4);
    expect(squeezeFilmDamping(lengthenedFilm(walls)) / squeezeFilmDamping(walls)).toBeCloseTo(1.325 ** 3 * 1.0083, 2);
  });

  it("is 3 pi mu R⁴/(2 h³) for a disc, 6 % below the square of equal area or so", () => {
    const disc = circularFilmDamping({ radius: 1e-3, gap: 1e-5, viscosity });
    expect(relative(disc, (3 * Math.PI * viscosity * 1e-12) / 2e-15)).toBeLessThan(1e-12);
    const side = Math.sqrt(Math.PI) * 1e-3;
    // Saint-Venant's analogy to torsion: of equal areas the disc has most, J/A² = 1/(2 pi) against 0.140577 for the square.
    expect(
      relative(disc / squeezeFilmDamping({ length: side, width: side, gap: 1e-5, viscosity }), 1 / (2 * Math.PI) / 0.140577),
    ).toBeLessThan(1e-6);
  });

  it("refuses a film that is not thin", () => {
    expect(() => squeezeFilmDamping({ length: 1e-3, width: 6e-6, gap: 7e-6, viscosity })).toThrow(/quarter/);
    expect(() => squeezeFilmDamping({ length: 1e-3, width: 6e-6, gap: 0, viscosity })).toThrow(RangeError);
    expect(() => circularFilmDamping({ radius: 1e-5, gap: 6e-6, viscosity })).toThrow(RangeError);
  });
});

describe("compressible film", () => {
  const pressure = 101325;
  /** Damping and spring parts of force/(p A x/h) at a squeeze number. */
  function parts(ratio: number, number: number): readonly [number, number] {
    const film = { length: 1e-3 / ratio, width: 1e-3, gap: 1e-5, viscosity };
    const angularFrequency = (number * pressure * film.gap ** 2) / (12 * viscosity * film.width ** 2);
    expect(relative(squeezeNumber(film, { angularFrequency, pressure }), number)).toBeLessThan(1e-12);
    const { damping, stiffness } = compressibleSqueezeFilm(film, { angularFrequency, pressure });
    const scale = (pressure * film.length * film.width) / film.gap;
    return [(damping * angularFrequency) / scale, stiffness / scale];
  }

  // Double series [blech1983], computed with 300 and more terms per sum; eight decimals printed.
  it.each([
    [1, 0.03505889, 0.00169819],
    [10, 0.28330785, 0.13579686],
    [20, 0.36445809, 0.33908884],
    [100, 0.2315727, 0.71733149],
  ])("square at squeeze number %d: damping %d, spring %d", (number, damping, spring) => {
    const found = parts(1, number);
    expect(Math.abs(found[0] - damping)).toBeLessThan(1e-8);
    expect(Math.abs(found[1] - spring)).toBeLessThan(1e-8);
  });

  it("damps and springs alike at 21.634897 (square) and 10.605330 (one to ten)", () => {
    for (const [ratio, number] of [
      [1, 21.634897],
      [0.1, 10.60533],
    ] as const) {
      const [damping, spring] = parts(ratio, number);
      // The slope of their ratio is about one per squeeze number of that size: seven printed digits.
      expect(relative(spring, damping)).toBeLessThan(1e-6);
    }
  });

  it("is the double series summed term by term", () => {
    for (const [ratio, s] of [
      [0.4, 3],
      [1, 60],
    ] as const) {
      let [damping, spring] = [0, 0];
      for (let m = 1; m < 400; m += 2) {
        for (let n = 1; n < 400; n += 2) {
          const square = m * m + (n * ratio) ** 2;
          const bottom = (m * n) ** 2 * (square ** 2 + (s / Math.PI ** 2) ** 2);
          damping += ((64 * s) / Math.PI ** 6) * (square / bottom);
          spring += (64 * s * s) / Math.PI ** 8 / bottom;
        }
      }
      // 200 odd terms per sum leave 1e-6.
      expect(relative(parts(ratio, s)[0], damping)).toBeLessThan(3e-6);
      expect(relative(parts(ratio, s)[1], spring)).toBeLessThan(3e-6);
    }
  });

  it("tends to the incompressible film and to a piston of gas", () => {
    const film = { length: 1e-3, width: 5e-4, gap: 1e-5, viscosity };
    const slow = compressibleSqueezeFilm(film, { angularFrequency: 1, pressure });
    expect(relative(slow.damping, squeezeFilmDamping(film))).toBeLessThan(1e-6);
    const fast = compressibleSqueezeFilm(film, { angularFrequency: 1e10, pressure });
    const piston = (pressure * film.length * film.width) / film.gap;
    // At each edge a layer W/sqrt(2 s) thick does not take part; corners count twice, to the square of it.
    const layer = film.width / Math.sqrt(2 * squeezeNumber(film, { angularFrequency: 1e10, pressure }));
    const missing = 2 * layer * (1 / film.length + 1 / film.width);
    expect(Math.abs(fast.stiffness / piston - 1 + missing)).toBeLessThan(missing ** 2);
  });
});

describe("plates with openings", () => {
  const slits: PlateOpenings = { kind: "slits", width: 8e-6, period: 20e-6, thickness: 40e-6 };
  const film = { length: 1e-3, width: 1e-3, gap: 7e-6, viscosity };

  it("is the plain film where the openings are closed by their length", () => {
    expect(relative(leakyFilmDamping(film, { ...slits, thickness: 1e3 }), squeezeFilmDamping(film))).toBeLessThan(1e-5);
  });

  it("is area × resistance of the openings where the plate is wide", () => {
    const wide = { ...film, length: 1, width: 1 };
    // Edges: a layer of the leak length sqrt(h³ R/12 mu), 26 um, on all sides of a metre.
    expect(relative(leakyFilmDamping(wide, slits), openingResistance(slits, film))).toBeLessThan(2e-4);
    expect(leakyFilmDamping(film, slits)).toBeLessThan(1e-6 * openingResistance(slits, film));
    expect(leakyFilmDamping(film, slits)).toBeGreaterThan(0.85e-6 * openingResistance(slits, film));
  });

  it("is the strip with leak where the plate is long: 1 - tanh(x)/x", () => {
    const long = { ...film, length: 10 };
    const resistance = openingResistance(slits, film);
    const x = 0.5e-3 / Math.sqrt((film.gap ** 3 * resistance) / (12 * viscosity));
    expect(relative(leakyFilmDamping(long, slits), 10e-3 * resistance * (1 - Math.tanh(x) / x))).toBeLessThan(1e-5);
  });

  it("tends to bars on their own where slits are wide and shallow", () => {
    const open: PlateOpenings = { kind: "slits", width: 60e-6, period: 100e-6, thickness: 1e-9 };
    const bars = (viscosity * 40e-6 ** 3) / film.gap ** 3 / 100e-6;
    // Left over: the flow into the slit, 8 s/(3 pi) of channel.
    const ends = (12 * viscosity * ((8 * 60e-6) / (3 * Math.PI)) * 100e-6) / 60e-6 ** 3;
    expect(relative(openingResistance(open, film), bars + ends)).toBeLessThan(1e-4);
    expect(ends / bars).toBeLessThan(0.2);
  });

  it("knows holes: Poiseuille flow and the film around each", () => {
    const holes: PlateOpenings = { kind: "round holes", radius: 5e-6, period: 30e-6, thickness: 100e-6 };
    const share = (Math.PI * 25) / 900;
    // Thick film: the channel alone, 8 mu t/(share r²), its ends 3 pi r/8.
    const channel = (8 * viscosity * (100e-6 + (3 * Math.PI * 5e-6) / 8)) / (share * 25e-12);
    expect(relative(openingResistance(holes, { gap: 1, viscosity }), channel)).toBeLessThan(1e-12);
    // Thin film: mean pressure of the annulus with a sealed outer rim, by Simpson's rule on p(r) = 6 mu v/h³ [c² ln(r/a) - (r² - a²)/2].
    const [a, c, h] = [5e-6, 30e-6 / Math.sqrt(Math.PI), 1e-7];
    const pressure = (r: number) => ((6 * viscosity) / h ** 3) * (c * c * Math.log(r / a) - (r * r - a * a) / 2);
    let force = 0;
    const n = 400;
    for (let i = 0; i <= n; i++) {
      const r = a + ((c - a) * i) / n;
      force += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * 2 * Math.PI * r * pressure(r);
    }
    force *= (c - a) / n / 3;
    expect(relative(openingResistance(holes, { gap: h, viscosity }) - channel, force / (Math.PI * c * c))).toBeLessThan(1e-6);
  });

  it("refuses openings wider than their period and plates of few periods", () => {
    expect(() => openingResistance({ ...slits, width: 20e-6 }, film)).toThrow(/within the period/);
    expect(() => leakyFilmDamping({ ...film, width: 60e-6 }, slits)).toThrow(/periods/);
  });
});

describe("series of the film equation", () => {
  it("does not depend on which side is called the length", () => {
    for (const q of [
      { re: 0, im: 1e7 },
      { re: 3e9, im: 0 },
      { re: 1e6, im: 2e8 },
    ]) {
      const one = meanFilmPressure({ length: 1e-3, width: 2e-4 }, q);
      const other = meanFilmPressure({ length: 2e-4, width: 1e-3 }, q);
      expect(Math.hypot(one.re - other.re, one.im - other.im)).toBeLessThan(1e-8 * Math.hypot(one.re, one.im));
    }
  });
});
