/**
 * A campaign: a test over many seeded cases. `npm test` takes a small fixed sample, `npm run campaign` takes them all.
 * Campaign files are named `*.campaign.ts`; the number of cases that really ran is printed.
 */

export interface Campaign {
  /** Number of cases to run now. */
  readonly nCases: number;
  /** Seed of the random source, an integer of 32 bits. The same for every run unless CAMPAIGN_SEED says otherwise. */
  readonly seed: number;
}

/** FNV-1a hash, so that each campaign has a fixed seed of its own (from memory; any fixed map would do). */
function seedFromName(name: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) hash = Math.imul(hash ^ name.charCodeAt(i), 0x01000193) >>> 0;
  return hash | 0;
}

/** Decides how many cases a campaign runs: `sample` in the normal tests, `full` when all campaigns run. */
export function campaign({ name, sample, full }: { name: string; sample: number; full: number }): Campaign {
  const nCases = process.env.CAMPAIGN === "full" ? full : sample;
  const given = Number(process.env.CAMPAIGN_SEED ?? Number.NaN);
  const seed = Number.isSafeInteger(given) ? given | 0 : seedFromName(name);
  console.log(`campaign "${name}": ${nCases} of ${full} cases, seed ${seed}`);
  return { nCases, seed };
}
