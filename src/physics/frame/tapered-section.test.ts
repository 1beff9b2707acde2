import { describe, expect, it } from "vitest";
import { bendingIntegrals, meanAlongTaper, turnStiffness } from "./tapered-section.ts";

/** Plain sums over many short slices: the error falls with the square of their number. */
function summed(of: (s: number) => number): number {
  const n = 200_000;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += of((i + 0.5) / n);
  return sum / n;
}

const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe("integrals over an element whose width grows evenly", () => {
  it("are those of plain sums, however the width goes into them", () => {
    for (const widths of [
      [3, 1],
      [1, 1.01],
      [0.1, 2],
    ] as const) {
      const width = (s: number): number => widths[0] + (widths[1] - widths[0]) * s;
      for (const power of [-3, -1, 1]) {
        const of = (w: number): number => w ** power;
        // the sums are right to 1e-8 where the narrow end is a twentieth of the other
        expect(
          errorOf(
            meanAlongTaper(widths, of),
            summed((s) => of(width(s))),
          ),
        ).toBeLessThan(2e-8);
        const { start, cross, end } = bendingIntegrals(widths, of);
        expect(
          errorOf(
            start,
            summed((s) => of(width(s)) * (1 - s) ** 2),
          ),
        ).toBeLessThan(2e-8);
        expect(errorOf(cross, -summed((s) => of(width(s)) * s * (1 - s)))).toBeLessThan(2e-8);
        expect(
          errorOf(
            end,
            summed((s) => of(width(s)) * s * s),
          ),
        ).toBeLessThan(2e-8);
      }
    }
  });

  it("give an even beam its 4 EI/L and 2 EI/L, and with shear Timoshenko's", () => {
    // lengths of 1, EI = 1: phi = 12 EI/(k G A L^2); shear adds 1/(k G A L) = phi/12 (Przemieniecki 1968, from memory)
    for (const phi of [0, 0.7]) {
      const { start, cross, end } = turnStiffness(
        bendingIntegrals([2, 2], () => 1),
        phi / 12,
      );
      expect(errorOf(start, (4 + phi) / (1 + phi))).toBeLessThan(1e-13);
      expect(errorOf(cross, (2 - phi) / (1 + phi))).toBeLessThan(1e-13);
      expect(errorOf(end, start)).toBeLessThan(1e-13);
    }
  });
});
