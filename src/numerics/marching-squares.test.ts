import { describe, expect, it } from "vitest";
import { contourLines, type GridValues } from "./marching-squares.ts";

function gridOf(n: number, height: (x: number, y: number) => number): GridValues {
  const values = Float64Array.from({ length: n * n }, (_, k) => height((k % n) / (n - 1), Math.floor(k / n) / (n - 1)));
  return { nx: n, ny: n, values };
}

/** Area enclosed, positive counter-clockwise, and length, in units of the square. */
function measure(points: Float64Array, n: number): { area: number; length: number } {
  let [area, length] = [0, 0];
  for (let k = 2; k < points.length; k += 2) {
    const [a, b, c, d] = [points[k - 2]!, points[k - 1]!, points[k]!, points[k + 1]!].map((value) => value / (n - 1));
    area += (a! * d! - c! * b!) / 2;
    length += Math.hypot(c! - a!, d! - b!);
  }
  return { area, length };
}

describe("contour lines", () => {
  it.each([21, 41, 81])("of a cone on %s points a side are a circle, to second order", (n) => {
    const [line, ...others] = contourLines(
      gridOf(n, (x, y) => -Math.hypot(x - 0.47, y - 0.52)),
      -0.3,
    );
    expect(others.length).toBe(0);
    expect(line!.closed).toBe(true);
    const { area, length } = measure(line!.points, n);
    // a chord of length h lies h²/(8 r) inside; crossings of a cone bend by as much
    const error = 1 / (n - 1) ** 2;
    expect(Math.abs(area - Math.PI * 0.09)).toBeLessThan(2 * error);
    expect(Math.abs(length - 2 * Math.PI * 0.3)).toBeLessThan(4 * error);
  });
  it("have the higher ground on their left: round a hill counter-clockwise, round a hollow clockwise", () => {
    const hill = (x: number, y: number): number => -Math.hypot(x - 0.5, y - 0.5);
    expect(measure(contourLines(gridOf(15, hill), -0.3)[0]!.points, 15).area).toBeGreaterThan(0);
    expect(
      measure(
        contourLines(
          gridOf(15, (x, y) => -hill(x, y)),
          0.3,
        )[0]!.points,
        15,
      ).area,
    ).toBeLessThan(0);
  });
  it("are exact where the ground is a plane, and end at the border", () => {
    const [line, ...others] = contourLines(
      gridOf(5, (x, y) => x + y),
      0.8,
    );
    expect(others.length).toBe(0);
    expect(line!.closed).toBe(false);
    for (let k = 0; k < line!.points.length; k += 2) expect((line!.points[k]! + line!.points[k + 1]!) / 4).toBeCloseTo(0.8, 12);
  });
  it("part a saddle by the mean of its corners", () => {
    const saddle = (low: number): GridValues => ({ nx: 2, ny: 2, values: Float64Array.of(1, low, low, 1) });
    // high corners are joined where the mean is above the level: both lines then cut a low corner off
    for (const [low, cutsLow] of [
      [-0.5, true],
      [-2, false],
    ] as const) {
      const lines = contourLines(saddle(low), 0);
      expect(lines.length).toBe(2);
      for (const { points } of lines) {
        const [x, y] = [(points[0]! + points[2]!) / 2, (points[1]! + points[3]!) / 2];
        expect(x > 0.5 !== y > 0.5).toBe(cutsLow);
      }
    }
  });
  it("stop where values are missing", () => {
    const grid = gridOf(11, (x, y) => (x > 0.55 ? Number.NaN : y));
    const [line] = contourLines(grid, 0.33);
    const xs = line!.points.filter((_, k) => k % 2 === 0);
    expect(Math.max(...xs)).toBeCloseTo(5, 12);
  });
  it("do not exist above everything, and wrong sizes are refused", () => {
    expect(
      contourLines(
        gridOf(4, (x) => x),
        2,
      ),
    ).toEqual([]);
    expect(() => contourLines({ nx: 3, ny: 3, values: new Float64Array(4) }, 0)).toThrow("wanted 9 values, found 4");
  });
});
