/**
 * What an electro-thermal frame is made of: straight branches between junctions, and terminals that a source may drive.
 *
 * Pure description, no numbers computed here. Temperatures in kelvin, everything in SI.
 * Validity: each branch is slender, so that its temperature and potential vary only along it.
 */
import type { Law } from "#base";
import type { HeatExchange } from "./heat-exchange.ts";

/** A fixed heat conductance to something that keeps its temperature: a thermal resistance R is a conductance 1/R. */
export interface HeatSink {
  /** [W/K] */
  readonly conductance: number;
  /** [K] */
  readonly temperature: number;
}

/** A point where branches meet. */
export interface ThermalJunction {
  /** Held temperature [K]; left out where the temperature is to be found. */
  readonly temperature?: number;
  readonly sinks?: readonly HeatSink[];
  /** Loss of a lumped surface at the junction's temperature; `lossAt` in [W]. */
  readonly exchange?: HeatExchange;
  /** Lumped heat capacity [J/K]; only transients use it. */
  readonly heatCapacity?: number;
  /** Index of the terminal it is wired to. */
  readonly terminal?: number;
  /** Resistance of that wiring [ohm]; left out = ideal. Its heat is taken to be set free off the frame. */
  readonly leadResistance?: number;
}

/** A quantity that is uniform along a branch, or varies linearly from its start to its end. */
export type AlongBranch<T> = T | { readonly from: T; readonly to: T };

/** A straight conductor of heat and, where it has a resistivity, of current. */
export interface ElectroThermalBranch {
  /** Junction index at the start and at the end. */
  readonly from: number;
  readonly to: number;
  /** [m] */
  readonly length: number;
  /** Cross-section [m^2]; linear in between where two values are given. */
  readonly area: AlongBranch<number>;
  /** [W/(m K)] */
  readonly thermalConductivity: Law;
  /** [ohm m]; undefined = carries no current. */
  readonly resistivity: Law | undefined;
  /** Loss per length of the sides, `lossAt` in [W/m]; left out = insulated sides. */
  readonly exchange?: AlongBranch<HeatExchange>;
  /** Heat capacity per volume [J/(m^3 K)]; only transients use it. */
  readonly heatCapacity?: Law;
}

export interface ElectroThermalNetwork {
  readonly junctions: readonly ThermalJunction[];
  readonly branches: readonly ElectroThermalBranch[];
  readonly nTerminals: number;
}

/** Drives two terminals with a voltage behind a series resistance; beyond the current limit it holds the current instead. */
export interface VoltageSource {
  readonly kind: "voltage";
  /** [V], of `plus` against `minus` without load. */
  readonly voltage: number;
  /** [ohm]; 0 for an ideal source. */
  readonly seriesResistance: number;
  /** [A], magnitude. */
  readonly currentLimit?: number;
  readonly plus: number;
  readonly minus: number;
}

/** Drives a given current out of `plus` through the frame into `minus`. */
export interface CurrentSource {
  readonly kind: "current";
  /** [A] */
  readonly current: number;
  readonly plus: number;
  readonly minus: number;
}

export type ElectricSource = VoltageSource | CurrentSource;

/** Reads a quantity along a branch at the relative position s in [0, 1]. */
export function numberAlong(value: AlongBranch<number>, s: number): number {
  return typeof value === "number" ? value : value.from + (value.to - value.from) * s;
}

function requireIndex(index: number, count: number, what: string): void {
  if (!Number.isInteger(index) || index < 0 || index >= count) {
    throw new RangeError(`Cannot use ${what}: wanted an index from 0 to ${count - 1}, found ${index}`);
  }
}

function requirePositive(value: number, what: string): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new RangeError(`Cannot use ${what}: wanted a positive number, found ${value}`);
}

/** Throws a RangeError at the first impossible number of a network. */
export function checkNetwork(network: ElectroThermalNetwork): void {
  const { junctions, branches, nTerminals } = network;
  junctions.forEach((junction, j) => {
    if (junction.terminal !== undefined) requireIndex(junction.terminal, nTerminals, `the terminal of junction ${j}`);
    if (junction.temperature !== undefined) requirePositive(junction.temperature, `the temperature of junction ${j}`);
    if (!((junction.leadResistance ?? 0) >= 0)) {
      throw new RangeError(`Cannot use the lead resistance of junction ${j}: wanted 0 or more, found ${junction.leadResistance}`);
    }
    for (const sink of junction.sinks ?? []) {
      requirePositive(sink.temperature, `the sink temperature of junction ${j}`);
      if (!(sink.conductance >= 0)) {
        throw new RangeError(`Cannot use a sink of junction ${j}: wanted a conductance of 0 or more, found ${sink.conductance}`);
      }
    }
  });
  branches.forEach((branch, b) => {
    requireIndex(branch.from, junctions.length, `the start of branch ${b}`);
    requireIndex(branch.to, junctions.length, `the end of branch ${b}`);
    if (branch.from === branch.to) throw new RangeError(`Cannot use branch ${b}: it starts and ends at junction ${branch.from}`);
    requirePositive(branch.length, `the length of branch ${b}`);
    requirePositive(numberAlong(branch.area, 0), `the cross-section of branch ${b}`);
    requirePositive(numberAlong(branch.area, 1), `the cross-section of branch ${b}`);
  });
}
