/**
 * What an electro-thermal frame is made of: straight branches between junctions, and terminals that a source may drive.
 *
 * Pure description, no numbers computed here. Temperatures in kelvin, everything in SI.
 * Validity: each branch is slender, so that its temperature and potential vary only along it.
 */
import type { Law } from "#base";
import type { HeatExchange, PairExchange } from "./heat-exchange.ts";

/** A fixed heat conductance to something that keeps its temperature: a thermal resistance R is a conductance 1/R. */
export interface ConductanceSink {
  /** [W/K] */
  readonly conductance: number;
  /** [K] */
  readonly temperature: number;
}

/** A resistance with a capacity beside it. Steady heat sees the resistance alone. */
export interface FosterElement {
  /** [K/W] */
  readonly resistance: number;
  /** [J/K]; 0 for a resistance alone. */
  readonly capacitance: number;
}

/**
 * A thermal impedance to something that keeps its temperature, as a series of resistances each with its capacity beside it, the form
 * that fits of measured or computed cooling curves give: Z(t) = sum R_i (1 - exp(-t/(R_i C_i))).
 */
export interface ChainSink {
  readonly chain: readonly FosterElement[];
  /** [K] */
  readonly temperature: number;
}

export type HeatSink = ConductanceSink | ChainSink;

/** Conductance [W/K] of a sink to steady heat. */
export function steadyConductance(sink: HeatSink): number {
  return "chain" in sink ? 1 / sink.chain.reduce((sum, { resistance }) => sum + resistance, 0) : sink.conductance;
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

/** A stretch of a branch between two relative positions, or a whole junction. */
export type CouplingSide = { readonly branch: number; readonly span: readonly [number, number] } | { readonly junction: number };

/**
 * Heat that passes through the gas from a stretch of one branch to a stretch of another that faces it. The spans are walked in step from
 * their first to their second relative position: [0, 1] faces [1, 0] where the branches run against each other.
 */
export interface GasCoupling {
  readonly a: { readonly branch: number; readonly span: readonly [number, number] };
  readonly b: CouplingSide;
  /** Heat from a to b per length of a, [W/m]. */
  readonly exchange: PairExchange;
}

/** A fixed heat conductance between two junctions whose temperatures are to be found; it stores nothing. */
export interface ThermalLink {
  readonly a: number;
  readonly b: number;
  /** [W/K] */
  readonly conductance: number;
}

export interface ElectroThermalNetwork {
  readonly junctions: readonly ThermalJunction[];
  readonly branches: readonly ElectroThermalBranch[];
  readonly nTerminals: number;
  readonly couplings?: readonly GasCoupling[];
  readonly links?: readonly ThermalLink[];
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

function checkChain({ chain }: ChainSink, junction: number): void {
  const what = `the sink chain of junction ${junction}`;
  if (chain.length === 0) throw new RangeError(`Cannot use ${what}: wanted one resistance or more, found none`);
  for (const { resistance, capacitance } of chain) {
    requirePositive(resistance, what);
    if (!(capacitance >= 0 && Number.isFinite(capacitance)))
      throw new RangeError(`Cannot use ${what}: wanted a capacity of 0 or more, found ${capacitance}`);
  }
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
      if ("chain" in sink) checkChain(sink, j);
      else if (!(sink.conductance >= 0)) {
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
  (network.links ?? []).forEach(({ a, b, conductance }, l) => {
    for (const end of [a, b]) {
      requireIndex(end, junctions.length, `an end of link ${l}`);
      if (junctions[end]!.temperature !== undefined)
        throw new RangeError(`Cannot use link ${l}: wanted ends whose temperature is to be found, found held junction ${end}`);
    }
    if (a === b || !(conductance >= 0 && Number.isFinite(conductance)))
      throw new RangeError(
        `Cannot use link ${l}: wanted two ends and 0 W/K or more, found ${a} and ${b} with ${conductance} W/K`,
      );
  });
  (network.couplings ?? []).forEach(({ a, b }, c) => {
    for (const side of [a, b]) {
      if ("junction" in side) {
        requireIndex(side.junction, junctions.length, `the junction of coupling ${c}`);
        continue;
      }
      requireIndex(side.branch, branches.length, `a branch of coupling ${c}`);
      const [s0, s1] = side.span;
      if (!(s0 >= 0 && s0 <= 1 && s1 >= 0 && s1 <= 1 && s0 !== s1)) {
        throw new RangeError(`Cannot use coupling ${c}: wanted a span of two positions from 0 to 1, found ${s0} and ${s1}`);
      }
    }
  });
}
