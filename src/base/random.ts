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

/** Spreads neighbouring seeds over all 32 bits, or their sequences would begin alike (finaliser of MurmurHash3, from memory). */
function scrambleSeed(seed: number): number {
  let h = seed | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

/** A source of random numbers that always gives the same sequence for the same seed. */
export function createRandomSource(seed: number): RandomSource {
  const generator = xoroshiro128plus(scrambleSeed(seed));
  // the state starts half empty; its first outputs would still show that
  for (let i = 0; i < 20; i++) generator.next();
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
