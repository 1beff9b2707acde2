/**
 * Chance that brittle parts break: two-parameter Weibull statistics with the size effect.
 *
 * The weakest flaw decides, so the chance grows with the number of equally stressed roots or with the stressed area.
 * Published reference strengths of etched silicon lie at 1.2-4.6 GPa [chen1998] and up to 3 GPa [gaither2010]; both READ as abstracts.
 * Main test: strength.test.ts.
 */

import type { Source } from "#base";
import type { Strength } from "./material.ts";

/** Chance that at least one of `nRoots` roots, each at peak stress `stress` [Pa], breaks. */
export function breakChanceOfRoots(strength: Strength, load: { stress: number; nRoots: number }): number {
  return chance(strength, load.stress, load.nRoots);
}

/** Chance of breaking where `area` [m^2] stands at `stress` [Pa], for a reference strength found on `referenceArea` [m^2]. */
export function breakChanceOfArea(strength: Strength, load: { stress: number; area: number; referenceArea: number }): number {
  return chance(strength, load.stress, load.area / load.referenceArea);
}

function chance(strength: Strength, stress: number, count: number): number {
  if (!(count >= 0)) throw new RangeError(`Cannot tell the chance of breaking: wanted a size of zero or more, found ${count}`);
  // Compression does not open flaws; expm1 keeps small chances exact.
  if (!(stress > 0)) return stress <= 0 ? 0 : Number.NaN;
  return -Math.expm1(-count * (stress / strength.referenceStrength) ** strength.modulus);
}

/** Stress [Pa] at which the chance that any of `nRoots` breaks is `chance`: the inverse of `breakChanceOfRoots`. */
export function stressForBreakChance(strength: Strength, wanted: { chance: number; nRoots: number }): number {
  if (!(wanted.chance >= 0 && wanted.chance < 1)) {
    throw new RangeError(`Cannot tell the stress: wanted a chance of 0 up to less than 1, found ${wanted.chance}`);
  }
  return strength.referenceStrength * (-Math.log1p(-wanted.chance) / wanted.nRoots) ** (1 / strength.modulus);
}

const strengthSource: Source = {
  key: "chen1998",
  consulted: "read",
  note: "abstract: reference strength 1.2-4.6 GPa, lower at etched fillets; low end taken, modulus 5 is common practice, no source",
};

/** Deep-etched silicon, one leg root as the reference. */
export const etchedSiliconStrength: Strength = {
  referenceStrength: 1.2e9,
  modulus: 5,
  designLimit: 300e6,
  source: strengthSource,
  designLimitSource: { key: "common practice", consulted: "computed", note: "no source; not a safe stress for many roots" },
};
