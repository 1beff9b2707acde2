/** Voltages, currents, powers and where the heat goes, of a steady state. */
import { type EnergyBalance, type FrameSolution, meanAlong } from "#physics";
import type { Fed } from "./drive.ts";
import type { HeatNetwork } from "./heat-network.ts";

/** Where the heat goes, worked out from fluxes and losses, not from the equations that were solved. [W] */
export interface EnergyReport {
  readonly electricPower: number;
  readonly heatToAnchors: number;
  readonly heatToGas: number;
  readonly heatToLoad: number;
  /** Difference over the power. */
  readonly relativeDefect: number;
}

export interface ElectricResults {
  readonly padVoltage: number;
  readonly supplyVoltage: number;
  readonly current: number;
  readonly coldCurrent: number;
  readonly padPower: number;
  readonly supplyPower: number;
  readonly isCurrentLimited: boolean;
  readonly hotResistance: number;
  readonly gasShare: number;
  readonly energy: EnergyReport | undefined;
}

/** Of a drive that feeds current. */
export function electricResults(
  steady: FrameSolution & { readonly energy?: EnergyBalance },
  options: {
    readonly drive: Fed;
    /** Between plus and minus, [ohm]; worked out when it is asked for. */
    readonly coldResistance: () => number;
    readonly heat: HeatNetwork;
    readonly ambient: number;
  },
): ElectricResults {
  const { drive, coldResistance, heat, ambient } = options;
  const current = steady.sourceCurrents[0]!;
  const padVoltage = steady.sourceVoltages[0]!;
  const isCurrentLimited = steady.isLimited[0] === true;
  const supplyVoltage =
    drive.kind !== "supply" ? padVoltage : isCurrentLimited ? padVoltage + current * drive.resistance : drive.voltage;
  const { energy } = steady;
  const gas = energy === undefined ? lossOfFields(steady, heat) : energy.sideHeat + energy.lumpedHeat;
  const load = heat.leaks.reduce((sum, leak, j) => sum + leak * (steady.junctionTemperatures[j]! - ambient), 0);
  const padPower = padVoltage * current;
  return {
    padVoltage,
    supplyVoltage,
    current,
    get coldCurrent() {
      return coldCurrentOf(drive, { padVoltage, coldResistance: coldResistance() });
    },
    padPower,
    supplyPower: supplyVoltage * current,
    isCurrentLimited,
    get hotResistance() {
      return current === 0 ? coldResistance() : padVoltage / current;
    },
    gasShare: padPower === 0 ? 0 : gas / padPower,
    energy: energy && {
      electricPower: energy.terminalPower,
      heatToAnchors: energy.heldHeat + energy.sinkHeat - load,
      heatToGas: gas,
      heatToLoad: load,
      relativeDefect: energy.relativeDefect,
    },
  };
}

function coldCurrentOf(drive: Fed, at: { padVoltage: number; coldResistance: number }): number {
  if (drive.kind === "current") return drive.current;
  if (drive.kind === "pads") return at.padVoltage / at.coldResistance;
  return Math.min(drive.currentLimit ?? Number.POSITIVE_INFINITY, drive.voltage / (at.coldResistance + drive.resistance));
}

/** Of a device that is warmed without a current. */
export const withoutCurrent: ElectricResults = {
  padVoltage: 0,
  supplyVoltage: 0,
  current: 0,
  coldCurrent: 0,
  padPower: 0,
  supplyPower: 0,
  isCurrentLimited: false,
  hotResistance: Number.NaN,
  gasShare: Number.NaN,
  energy: undefined,
};

/** Heat that the sides of branches and the lumped surfaces of junctions lose at the temperatures of a state, [W]. */
function lossOfFields({ fields, junctionTemperatures }: FrameSolution, { network }: HeatNetwork): number {
  const ofBranches = network.branches.reduce((sum, { exchange }, b) => {
    if (exchange === undefined) return sum;
    const field = fields[b]!;
    const mean =
      "from" in exchange
        ? meanAlong(field, (T) => (exchange.from.lossAt(T) + exchange.to.lossAt(T)) / 2)
        : meanAlong(field, (T) => exchange.lossAt(T));
    return sum + mean * field.length;
  }, 0);
  return network.junctions.reduce(
    (sum, { exchange }, j) => sum + (exchange === undefined ? 0 : exchange.lossAt(junctionTemperatures[j]!)),
    ofBranches,
  );
}
