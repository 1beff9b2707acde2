/** Voltages, currents, powers and where the heat goes, of a steady state. */
import { type EnergyBalance, type FrameSolution, meanAlong, radiationExchange } from "#physics";
import type { Fed } from "./drive.ts";
import type { HeatNetwork } from "./heat-network.ts";

/** Where the heat goes, worked out from fluxes and losses, not from the equations that were solved. [W] */
export interface EnergyReport {
  readonly electricPower: number;
  readonly heatToAnchors: number;
  /** Through the gas, or as a loss that the text gives. */
  readonly heatToGas: number;
  readonly heatRadiated: number;
  readonly heatToLoad: number;
  /** Difference over the power. */
  readonly relativeDefect: number;
}

export interface ElectricResults {
  readonly padVoltage: number;
  readonly supplyVoltage: number;
  readonly current: number;
  readonly coldCurrent: number;
  /** Into the device through all of its nets. */
  readonly padPower: number;
  /** The same, and what the series resistor takes. */
  readonly supplyPower: number;
  readonly isCurrentLimited: boolean;
  readonly hotResistance: number;
  /** Parts of the heat: through the gas or as a given loss, by radiation, and through anchors into what is below. */
  readonly gasShare: number;
  readonly radiatedShare: number;
  readonly substrateShare: number;
  readonly energy: EnergyReport | undefined;
}

/** Of a drive that feeds current. */
export function electricResults(
  steady: FrameSolution & { readonly energy?: EnergyBalance },
  options: {
    readonly drive: Fed;
    /** Between plus and minus, [ohm]; worked out when it is asked for. */
    readonly coldResistance: () => number;
    /** Current of the drive in the unheated device where further nets feed it, [A]. */
    readonly coldCurrentAmongNets: () => number;
    readonly heat: HeatNetwork;
    readonly ambient: number;
  },
): ElectricResults {
  const { drive, coldResistance, coldCurrentAmongNets, heat, ambient } = options;
  const current = steady.sourceCurrents[0]!;
  const padVoltage = steady.sourceVoltages[0]!;
  const isCurrentLimited = steady.isLimited[0] === true;
  const supplyVoltage =
    drive.kind !== "supply" ? padVoltage : isCurrentLimited ? padVoltage + current * drive.resistance : drive.voltage;
  const { energy } = steady;
  const radiated = radiatedHeat(steady, { heat, ambient });
  const gas = (energy === undefined ? lossOfFields(steady, heat) : energy.sideHeat + energy.lumpedHeat) - radiated;
  const load = heat.leaks.reduce((sum, leak, j) => sum + leak * (steady.junctionTemperatures[j]! - ambient), 0);
  const padPower = steady.sourceCurrents.reduce((sum, of, s) => sum + of * steady.sourceVoltages[s]!, 0);
  const shareOf = (part: number): number => (padPower === 0 ? 0 : part / padPower);
  return {
    padVoltage,
    supplyVoltage,
    current,
    get coldCurrent() {
      if (drive.kind === "current") return drive.current;
      const resistance = drive.kind === "pads" ? 0 : drive.resistance;
      const free = drive.potentials.size > 0 ? coldCurrentAmongNets() : drive.voltage / (coldResistance() + resistance);
      const limit = (drive.kind === "supply" ? drive.currentLimit : undefined) ?? Number.POSITIVE_INFINITY;
      return Math.sign(free) * Math.min(Math.abs(free), limit);
    },
    padPower,
    supplyPower: padPower + (supplyVoltage - padVoltage) * current,
    isCurrentLimited,
    get hotResistance() {
      return current === 0 ? coldResistance() : padVoltage / current;
    },
    gasShare: shareOf(gas),
    radiatedShare: shareOf(radiated),
    substrateShare: shareOf(
      energy === undefined ? padPower - leadHeat(steady, heat) - gas - radiated - load : energy.heldHeat + energy.sinkHeat - load,
    ),
    energy: energy && {
      electricPower: energy.terminalPower,
      heatToAnchors: energy.heldHeat + energy.sinkHeat - load,
      heatToGas: gas,
      heatRadiated: radiated,
      heatToLoad: load,
      relativeDefect: energy.relativeDefect,
    },
  };
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
  radiatedShare: Number.NaN,
  substrateShare: Number.NaN,
  energy: undefined,
};

/** Heat that the sides of branches and the lumped surfaces of junctions lose at the temperatures of a state, [W]. */
function lossOfFields({ fields, junctionTemperatures }: FrameSolution, { network }: HeatNetwork): number {
  const ofBranches = network.branches.reduce((sum, { exchange }, b) => {
    if (exchange === undefined) return sum;
    const field = fields[b]!;
    const mean =
      "from" in exchange
        ? meanAlong(field, (T, share) => (1 - share) * exchange.from.lossAt(T) + share * exchange.to.lossAt(T))
        : meanAlong(field, (T) => exchange.lossAt(T));
    return sum + mean * field.length;
  }, 0);
  return network.junctions.reduce(
    (sum, { exchange }, j) => sum + (exchange === undefined ? 0 : exchange.lossAt(junctionTemperatures[j]!)),
    ofBranches,
  );
}

/** Heat set free in the leads between nets and anchors, [W]. */
function leadHeat({ terminalPotentials, junctionPotentials }: FrameSolution, { network }: HeatNetwork): number {
  return network.junctions.reduce(
    (sum, { terminal, leadResistance }, j) =>
      terminal === undefined || leadResistance === undefined
        ? sum
        : sum + (terminalPotentials[terminal]! - junctionPotentials[j]!) ** 2 / leadResistance,
    0,
  );
}

/** Part of it that is radiated, [W]. */
function radiatedHeat(
  { fields, junctionTemperatures }: FrameSolution,
  { heat, ambient }: { readonly heat: HeatNetwork; readonly ambient: number },
): number {
  const { branches, junctions } = heat.radiating;
  const { lossAt } = radiationExchange(1, ambient);
  const ofBranches = branches.reduce((sum, [from, to], b) => {
    if (from === 0 && to === 0) return sum;
    const field = fields[b]!;
    return sum + field.length * meanAlong(field, (T, share) => (from + share * (to - from)) * lossAt(T));
  }, 0);
  return junctions.reduce(
    (sum, effective, j) => (effective === 0 ? sum : sum + radiationExchange(effective, ambient).lossAt(junctionTemperatures[j]!)),
    ofBranches,
  );
}
