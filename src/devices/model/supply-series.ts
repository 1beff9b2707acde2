/** What a supply gives while a device runs through the steps of a drive. */
import type { ElectricSource, NeighbourTransient, TrajectoryPoint } from "#physics";
import type { DeviceParts } from "./device-parts.ts";
import { type Fed, sourcesOf } from "./drive.ts";

/** A stretch of time under one drive; without one the circuit is open. */
export interface SequenceStep {
  /** [s] */
  readonly duration: number;
  readonly drive: Fed | undefined;
}

export interface SupplySeries {
  /** Between plus and minus, [nTimes] A and V. */
  readonly current: Float64Array;
  readonly padVoltage: Float64Array;
  /** From all supplies, the resistor included, [nTimes] W. */
  readonly supplyPower: Float64Array;
  /** From all supplies since the start, [nTimes] J. */
  readonly supplyEnergy: Float64Array;
}

export function sourcesOfStep(parts: DeviceParts, drive: Fed | undefined): ElectricSource[] {
  if (drive === undefined) return [];
  const wired = new Set(
    parts.device.bodies.flatMap(({ part }) => (part.kind === "anchor" && part.wire !== undefined ? [part.wire] : [])),
  );
  return sourcesOf(drive, parts.heat.terminals, wired);
}

/** Currents and voltages of the run as powers and energies; between two times the cubic through both powers and their rates. */
export function supplySeries(
  run: Omit<NeighbourTransient, "fieldsAt">,
  at: { readonly steps: readonly SequenceStep[]; readonly points: readonly Pick<TrajectoryPoint, "time" | "phase">[] },
): SupplySeries {
  const { steps, points } = at;
  const nothing = new Float64Array(points.length);
  const current = run.sourceCurrents[0] ?? nothing;
  const padVoltage = run.sourceVoltages[0] ?? nothing;
  const currentRates = run.sourceCurrentRates[0] ?? nothing;
  const voltageRates = run.sourceVoltageRates[0] ?? nothing;
  const supplyPower = new Float64Array(points.length);
  const powerRates = new Float64Array(points.length);
  const supplyEnergy = new Float64Array(points.length);
  points.forEach(({ time, phase }, i) => {
    const drive = steps[phase]?.drive;
    const isRail = drive?.kind === "supply";
    const rail = isRail ? drive.voltage : padVoltage[i]!;
    supplyPower[i] = rail * current[i]!;
    powerRates[i] = rail * currentRates[i]! + (isRail ? 0 : voltageRates[i]! * current[i]!);
    // further nets have supplies of their own
    for (let s = 1; s < run.sourceCurrents.length; s++) {
      const [amperes, volts] = [run.sourceCurrents[s]![i]!, run.sourceVoltages[s]![i]!];
      supplyPower[i] = supplyPower[i]! + volts * amperes;
      powerRates[i] = powerRates[i]! + volts * run.sourceCurrentRates[s]![i]! + run.sourceVoltageRates[s]![i]! * amperes;
    }
    const before = points[i - 1];
    if (before === undefined) return;
    const h = before.phase === phase ? time - before.time : 0;
    const curved = (h * (powerRates[i - 1]! - powerRates[i]!)) / 12;
    supplyEnergy[i] = supplyEnergy[i - 1]! + h * (0.5 * (supplyPower[i]! + supplyPower[i - 1]!) + curved);
  });
  return { current, padVoltage, supplyPower, supplyEnergy };
}
