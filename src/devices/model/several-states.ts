/**
 * Whether a drive has more than one steady state, and a finding where it has.
 *
 * Only a resistivity that falls with temperature somewhere can hold a device in two states; the others are not searched.
 */
import type { Finding } from "#base";
import { type ElectricSource, findSteadyStates } from "#physics";
import type { DeviceParts } from "./device-parts.ts";

/** Steps in which a law is looked at, [K]. */
const lawStep = 20;

/** Highest temperature that every law of resistivity reaches, [K], where one of them falls somewhere; undefined where all rise. */
function rangeWithFall({ heat, conditions }: DeviceParts): number | undefined {
  let highest = Number.POSITIVE_INFINITY;
  let falls = false;
  const seen = new Set<unknown>();
  for (const { resistivity } of heat.network.branches) {
    if (resistivity === undefined || seen.has(resistivity)) continue;
    seen.add(resistivity);
    highest = Math.min(highest, resistivity.range.to);
    for (let T = conditions.ambient; T < resistivity.range.to; T += lawStep) if (resistivity.slopeAt(T) < 0) falls = true;
  }
  return falls && Number.isFinite(highest) ? highest : undefined;
}

/** A finding for each further state that the drive may end in. */
export function findSeveralStates(
  parts: DeviceParts,
  sources: readonly ElectricSource[],
  shown: { readonly hottestTemperature: number },
): readonly Finding[] {
  const hottest = rangeWithFall(parts);
  if (hottest === undefined || hottest <= shown.hottestTemperature) return [];
  const { states } = findSteadyStates(parts.heat.network, { sources, hottest, largestFraction: 2 });
  if (states.length < 2) return [];
  const told = states.map(({ state, isStable }) => {
    const T = state.fields.reduce((most, field) => field.temperatures.reduce((a, b) => Math.max(a, b), most), 0);
    return `${T.toFixed(0)} K (${isStable ? "stable" : "unstable"})`;
  });
  return [
    {
      code: "several-states",
      severity: "warning",
      where: "device",
      message: `The drive has ${states.length} steady states, hottest at ${told.join(", ")}; shown is the one that it comes to from cold, at ${shown.hottestTemperature.toFixed(0)} K.`,
    },
  ];
}
