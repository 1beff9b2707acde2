/**
 * Seeded random numbers. The generator is passed in wherever chance plays a part, so that every run can be repeated.
 * Generator: xoroshiro128+ of the pure-rand library.
 */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { normalQuantile } from "./normal-distribution.ts";

export interface RandomSource {
  /** Uniform in the open interval (0, 1). */
  uniform(): number;
  /** Whole number from 0 to below - 1. */
  whole(below: number): number;
  /** Standard normal. */
  normal(): number;
}

/** A source of random numbers that always gives the same sequence for the same seed. */
export function createRandomSource(seed: number): RandomSource {
  const generator = xoroshiro128plus(seed);
  const uniform = (): number => ((generator.next() >>> 0) + 0.5) / 2 ** 32;
  return { uniform, whole: (below) => Math.floor(uniform() * below), normal: () => normalQuantile(uniform()) };
}

/**
 * Latin hypercube: in each of `dimensions` columns every one of `count` equal slices is hit once.
 * Returns [count × dimensions] values in (0, 1), row-major. McKay, Beckman & Conover, Technometrics 21 (1979) 239 (from memory).
 */
export function latinHypercube(random: RandomSource, size: { count: number; dimensions: number }): Float64Array {
  const { count, dimensions } = size;
  const points = new Float64Array(count * dimensions);
  const order = new Int32Array(count);
  for (let column = 0; column < dimensions; column++) {
    for (let i = 0; i < count; i++) order[i] = i;
    for (let i = count - 1; i > 0; i--) {
      const j = random.whole(i + 1);
      const kept = order[i]!;
      order[i] = order[j]!;
      order[j] = kept;
    }
    for (let row = 0; row < count; row++) points[row * dimensions + column] = (order[row]! + random.uniform()) / count;
  }
  return points;
}
