import { describe, expect, it } from "vitest";
import { HermitePlane } from "./hermite-plane.ts";

const height = (x: number, y: number): number => Math.exp(x - 0.5 * y) * Math.cos(2 * x * y);
const slopes = (x: number, y: number): readonly [number, number] => {
  const e = Math.exp(x - 0.5 * y);
  const [c, s] = [Math.cos(2 * x * y), Math.sin(2 * x * y)];
  return [e * (c - 2 * y * s), e * (-0.5 * c - 2 * x * s)];
};
const answer = (x: number, y: number) => ({ values: Float64Array.of(height(x, y)), slopes: Float64Array.from(slopes(x, y)) });

function solveAll(plane: HermitePlane): void {
  for (let j = 0; j <= plane.cells; j++)
    for (let i = 0; i <= plane.cells; i++)
      if (!plane.isSolved(i, j)) plane.setNode(i, j, answer(i / plane.cells, j / plane.cells));
}

function worst(plane: HermitePlane): number {
  let most = 0;
  for (let k = 0; k < 400; k++) {
    const [x, y] = [((k * 0.618034) % 1) as number, ((k * 0.381966 + 0.1) % 1) as number];
    most = Math.max(most, Math.abs(plane.valueAt(x, y, 0) - height(x, y)));
  }
  return most;
}

describe("a plane of cubic pieces", () => {
  it("is exact for a bilinear function, whose twist the slopes give", () => {
    const plane = new HermitePlane(1, 2);
    for (let j = 0; j <= 2; j++)
      for (let i = 0; i <= 2; i++)
        plane.setNode(i, j, { values: Float64Array.of(3 + i * j), slopes: Float64Array.of(2 * j, 2 * i) });
    expect(plane.valueAt(0.3, 0.85, 0)).toBeCloseTo(3 + 4 * 0.3 * 0.85, 12);
  });
  it("errs with at least the third power of the cell, and tells the error of the coarser grid", () => {
    const plane = new HermitePlane(1, 2);
    const errors: number[] = [];
    for (let level = 0; level < 4; level++) {
      if (level > 0) plane.halve();
      solveAll(plane);
      errors.push(worst(plane));
    }
    // values and slopes are of the fourth order; the twist by differences, one-sided at the border, leaves the third there
    expect(Math.log2(errors[1]! / errors[2]!)).toBeGreaterThan(2.9);
    expect(Math.log2(errors[2]! / errors[3]!)).toBeGreaterThan(2.9);
    let stated = 0;
    for (let j = 0; j < plane.cells; j++)
      for (let i = 0; i < plane.cells; i++) stated = Math.max(stated, 16 * plane.errorIn(i, j, 0));
    // stated: the worst at the new nodes, those on the border too, where it is largest; found: the worst at points inside
    expect(stated).toBeLessThan(3 * errors[2]!);
    expect(stated).toBeGreaterThan(0.2 * errors[2]!);
  });
  it("keeps what it said where finer nodes are not solved", () => {
    const plane = new HermitePlane(1, 4);
    solveAll(plane);
    const before = plane.valueAt(0.37, 0.61, 0);
    plane.halve();
    expect(Math.abs(plane.valueAt(0.37, 0.61, 0) - before)).toBeLessThan(1e-4);
  });
  it("gives the same values on a grid as point by point", () => {
    const plane = new HermitePlane(1, 4);
    solveAll(plane);
    const grid = plane.grid(23, 0);
    for (let k = 0; k < grid.length; k++)
      expect(grid[k]).toBeCloseTo(plane.valueAt((k % 23) / 22, Math.floor(k / 23) / 22, 0), 12);
  });
  it("has no value next to a node without one, and keeps it elsewhere", () => {
    const plane = new HermitePlane(1, 4);
    solveAll(plane);
    plane.setNode(4, 4, { values: Float64Array.of(Number.NaN), slopes: Float64Array.of(Number.NaN, Number.NaN) });
    expect(plane.valueAt(0.95, 0.95, 0)).toBeNaN();
    expect(plane.valueAt(0.8, 0.8, 0)).toBeCloseTo(height(0.8, 0.8), 1);
    expect(plane.valueAt(0.3, 0.3, 0)).toBeCloseTo(height(0.3, 0.3), 3);
  });
});
