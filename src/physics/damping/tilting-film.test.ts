import { describe, expect, it } from "vitest";
import { squeezeFilmDamping } from "./squeeze-film.ts";
import { tiltingFilm } from "./tilting-film.ts";

const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const [gap, viscosity] = [1e-6, 1.8e-5];
/** So slow that nothing is compressed. */
const slow = { angularFrequency: 1e-6, pressure: 1e5 };

describe("a plate that tilts over a film", () => {
  it("long along the axis: mu W L^5/(60 h^3) (strip, by two integrations)", () => {
    const [length, width] = [50e-6, 0.5];
    const { damping, stiffness } = tiltingFilm({ length, width, gap, viscosity }, { vibration: slow });
    // the ends of the strip, half a length of it
    expect(errorOf(damping, (viscosity * width * length ** 5) / (60 * gap ** 3))).toBeLessThan(1e-4);
    expect(stiffness).toBeLessThan(1e-6 * slow.angularFrequency * damping);
  });
  it("narrow along the axis: every slice is a squeezed strip of its own, mu W^3 x^2/h^3", () => {
    const [length, width] = [0.05, 50e-6];
    const { damping } = tiltingFilm({ length, width, gap, viscosity }, { vibration: slow });
    expect(errorOf(damping, (viscosity * width ** 3 * length ** 3) / (12 * gap ** 3))).toBeLessThan(2e-2);
  });
  it("square: the same as by finite differences", () => {
    // second-order differences on a half with P = 0 on the axis, extrapolated from two grids
    const solve = (n: number): number => {
      const h = 1 / n;
      const [nx, ny] = [n / 2, n];
      const p = new Float64Array((nx + 1) * (ny + 1));
      for (let sweep = 0; sweep < 40 * n; sweep++) {
        for (let i = 1; i < nx; i++) {
          for (let j = 1; j < ny; j++) {
            const k = i * (ny + 1) + j;
            const next = 0.25 * (p[k - 1]! + p[k + 1]! + p[k - ny - 1]! + p[k + ny + 1]! + h * h * (i * h));
            p[k] = p[k]! + 1.8 * (next - p[k]!);
          }
        }
      }
      let sum = 0;
      for (let i = 1; i < nx; i++) for (let j = 1; j < ny; j++) sum += p[i * (ny + 1) + j]! * i * h;
      return 2 * sum * h * h;
    };
    const wanted = (4 * solve(48) - solve(24)) / 3;
    const { damping } = tiltingFilm({ length: 1e-4, width: 1e-4, gap, viscosity }, { vibration: slow });
    expect(errorOf(damping / (((12 * viscosity) / gap ** 3) * 1e-4 ** 6), wanted)).toBeLessThan(2e-4);
  });
  it("leaks the less the closer its openings, and is a spring when fast", () => {
    const film = { length: 1e-3, width: 1e-3, gap, viscosity };
    const closed = tiltingFilm(film, { vibration: slow }).damping;
    const holes = (radius: number): number =>
      tiltingFilm(film, { openings: { kind: "round holes", radius, period: 50e-6, thickness: 10e-6 } }).damping;
    expect(holes(1e-8) / closed).toBeCloseTo(1, 4);
    expect(holes(5e-6)).toBeLessThan(0.1 * closed);
    const fast = tiltingFilm(film, { vibration: { angularFrequency: 1e9, pressure: 1e5 } });
    // all gas is caught: p/h times the moment of the area
    expect(errorOf(fast.stiffness, (1e5 / gap) * (1e-3 ** 4 / 12))).toBeLessThan(1e-2);
    expect(fast.damping).toBeLessThan(closed);
    expect(closed).toBeLessThan(squeezeFilmDamping(film) * 0.5e-3 ** 2);
  });
  it("refuses what is no film", () => {
    expect(() => tiltingFilm({ length: 1e-6, width: 1e-6, gap, viscosity }, { vibration: slow })).toThrow(/thin film/);
  });
});
