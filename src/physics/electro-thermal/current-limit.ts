/**
 * Voltage sources with a current limit: which of them stand at it, and by how much a state oversteps what its mode allows.
 *
 * Free: the current stays within the limit. At the limit: the frame would take at least the limit from the full voltage. Both
 * characteristics meet in one point, so that current and voltage go on without a jump where the mode changes.
 */
import type { FrameLayout } from "./frame-layout.ts";
import type { ElectricSource } from "./network.ts";

/** Sign of the current at which a source is held, 0 where it is free. */
export type LimitModes = Int8Array;

/** The sources as they act in the present modes. */
export function actingSources(sources: readonly ElectricSource[], modes: LimitModes): readonly ElectricSource[] {
  return sources.map((source, s) => {
    if (source.kind !== "voltage" || modes[s] === 0) return source;
    return { kind: "current", current: modes[s]! * source.currentLimit!, plus: source.plus, minus: source.minus };
  });
}

/** How far the state `x` oversteps the mode of source s, as a part of its limit or voltage; negative inside. */
export function overstep(
  source: ElectricSource,
  x: Float64Array,
  options: { readonly layout: FrameLayout; readonly index: number; readonly mode: number },
): number {
  if (source.kind !== "voltage" || source.currentLimit === undefined) return Number.NEGATIVE_INFINITY;
  const { layout, index, mode } = options;
  const current = x[layout.sourceEntry + index]!;
  if (mode === 0) return Math.abs(current) / source.currentLimit - 1;
  const voltage = x[layout.potentialEntry + source.plus]! - x[layout.potentialEntry + source.minus]!;
  const wanted = mode * (voltage + source.seriesResistance * current);
  const open = mode * source.voltage;
  return (wanted - open) / Math.max(Math.abs(open), 1e-300);
}
