import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findSelfCrossing, sideOfPoint, turnSign } from "./orientation.ts";
import { polygonFrom, rectangle } from "./polygon.ts";

const settings = { seed: 12, numRuns: 500 };
const any32 = fc.integer({ min: -(2 ** 31) + 1, max: 2 ** 31 - 1 });

function turnByWholeNumbers(p: readonly number[]): number {
  const [ax, ay, bx, by, cx, cy] = p.map(BigInt) as [bigint, bigint, bigint, bigint, bigint, bigint];
  const value = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  return value > 0n ? 1 : value < 0n ? -1 : 0;
}

describe("turnSign", () => {
  it("agrees with whole-number arithmetic for any 32-bit points", () => {
    fc.assert(
      fc.property(fc.tuple(any32, any32, any32, any32, any32, any32), (p) => {
        expect(turnSign(p[0], p[1], p[2], p[3], p[4], p[5])).toBe(turnByWholeNumbers(p));
      }),
      settings,
    );
  });

  it("agrees for nearly collinear points, where doubles alone fail", () => {
    fc.assert(
      fc.property(fc.tuple(any32, any32, fc.integer({ min: -2, max: 2 }), fc.integer({ min: -2, max: 2 })), ([x, y, dx, dy]) => {
        const p = [
          -x,
          -y,
          0,
          0,
          Math.max(Math.min(x + dx, 2 ** 31 - 1), -(2 ** 31)),
          Math.max(Math.min(y + dy, 2 ** 31 - 1), -(2 ** 31)),
        ] as const;
        expect(turnSign(...p)).toBe(turnByWholeNumbers(p));
      }),
      settings,
    );
    // One unit off a line of 2^32: the double value of both products is the same.
    expect(turnSign(-2147483647, -2147483646, 2147483647, 2147483646, 0, 0)).toBe(0);
    expect(turnSign(-2147483647, -2147483646, 2147483647, 2147483647, 0, 0)).toBe(
      turnByWholeNumbers([-2147483647, -2147483646, 2147483647, 2147483647, 0, 0]),
    );
  });
});

describe("findSelfCrossing", () => {
  it("finds the crossing of a bow tie and allows touching", () => {
    expect(findSelfCrossing(polygonFrom([0, 0, 10, 10, 10, 0, 0, 10]))).toEqual([0, 2]);
    expect(findSelfCrossing(rectangle({ left: 0, bottom: 0, right: 4, top: 4 }))).toBeUndefined();
    // A frame cut open by a slit of no width: boundaries touch along the slit.
    expect(findSelfCrossing(polygonFrom([0, 0, 9, 0, 9, 9, 0, 9, 0, 0, 3, 3, 3, 6, 6, 6, 6, 3, 3, 3]))).toBeUndefined();
  });
});

describe("sideOfPoint", () => {
  it("tells inside, boundary and outside apart", () => {
    const triangle = polygonFrom([0, 0, 10, 0, 0, 10]);
    expect([
      sideOfPoint(triangle, [1, 1]),
      sideOfPoint(triangle, [5, 5]),
      sideOfPoint(triangle, [6, 5]),
      sideOfPoint(triangle, [0, 10]),
    ]).toEqual([1, 0, -1, 0]);
  });
});
