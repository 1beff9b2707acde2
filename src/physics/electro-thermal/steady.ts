/**
 * Steady states of an electro-thermal frame: temperatures, currents, power and an independent energy balance.
 *
 * Voltage drives converge from cold in a few Newton steps. Where they do not, or where the state found is not stable, the drive
 * is raised from zero in steps that are halved on failure; if it cannot be raised to the full value there is no steady state
 * (thermal run-away) and the result says at which part of the drive it was lost. Meshes are refined until the energy defect is
 * below its target. Validity: slender branches, laws smooth over the temperatures met (the result tells them; the caller
 * compares them with the range of the laws). Main test: electro-thermal-theory.test.ts.
 */

import { type BranchState, createBranchState } from "./branch-operator.ts";
import { balanceEnergy, type EnergyBalance } from "./energy-balance.ts";
import { type BranchField, fieldOfBranch, temperatureAlong } from "./field.ts";
import {
  checkNetwork,
  type ElectricSource,
  type ElectroThermalBranch,
  type ElectroThermalNetwork,
  numberAlong,
} from "./network.ts";
import { createNewtonSystem, determinantSign, type FrameState, iterateNewton, type NewtonSystem } from "./newton.ts";
import { degree } from "./reference-element.ts";
import { spectralTail } from "./spectral-tail.ts";
import { createTopology, requireHeatPath } from "./topology.ts";

export interface SteadyState {
  readonly outcome: "steady";
  /** One field per branch, in the order of the network. */
  readonly fields: readonly BranchField[];
  /** [K] */
  readonly junctionTemperatures: Float64Array;
  /** [V], against the grounded terminal (the minus pole of the first source). */
  readonly junctionPotentials: Float64Array;
  readonly terminalPotentials: Float64Array;
  /** Current out of the plus pole of each source [A]. */
  readonly sourceCurrents: Float64Array;
  /** Voltage between the poles of each source [V]. */
  readonly sourceVoltages: Float64Array;
  /** True where a voltage source stands at its current limit. */
  readonly isLimited: readonly boolean[];
  readonly energy: EnergyBalance;
  /** Newton steps spent. */
  readonly iterations: number;
}

/** No stable steady state exists at the full drive. */
export interface NoSteadyState {
  readonly outcome: "no steady state";
  /** Largest part of the drive that still had a steady state, and smallest part found without one. */
  readonly reachedFraction: number;
  readonly failedFraction: number;
  /** Hottest temperature at the largest part reached [K]. */
  readonly reachedTemperature: number;
  readonly reason: string;
}

export type SteadyOutcome = SteadyState | NoSteadyState;

export interface SteadyOptions {
  /** An earlier state of the same network to start from. */
  readonly start?: SteadyState;
  /** Relative energy defect to reach by refinement; 1e-6 where left out. A kinked law may stop above it: see `energy`. */
  readonly energyTarget?: number;
}

export interface ElectroThermalModel {
  readonly network: ElectroThermalNetwork;
  solve(sources: readonly ElectricSource[], options?: SteadyOptions): SteadyOutcome;
}

/** Decay lengths that one element of the first mesh may span. */
const decaysPerElement = 4;
const maxElements = 32;
const maxRefinements = 5;
/** Part of a branch's temperature span that the last polynomial terms may carry; kinks of tables stay just below. */
const tailTarget = 1e-3;
/** Elements beyond which a kinked law gains nothing from halving for the tail alone. */
const finestForTail = 8;
/** Last Newton step [K] at which a state counts as found; the error left is of the order of its square. */
const stepTolerance = 1e-5;
/** Continuation gives up when the step in the drive is this small a part of the whole. */
const smallestDriveStep = 1e-5;

function coldestSurroundings(network: ElectroThermalNetwork): number {
  const all = [
    ...network.junctions.flatMap((junction) => [
      ...(junction.temperature === undefined ? [] : [junction.temperature]),
      ...(junction.sinks ?? []).map((sink) => sink.temperature),
      ...(junction.exchange === undefined ? [] : [junction.exchange.sinkTemperature]),
    ]),
    ...network.branches.flatMap(({ exchange }) =>
      exchange === undefined
        ? []
        : "from" in exchange
          ? [exchange.from.sinkTemperature, exchange.to.sinkTemperature]
          : [exchange.sinkTemperature],
    ),
  ];
  return Math.min(...all);
}

/** Number of elements so that each spans a few decay lengths sqrt(k A / loss slope) at most. */
export function firstMeshSize(branch: ElectroThermalBranch, temperature: number): number {
  if (branch.exchange === undefined) return 1;
  const exchange = "from" in branch.exchange ? branch.exchange.from : branch.exchange;
  const area = Math.min(numberAlong(branch.area, 0), numberAlong(branch.area, 1));
  const decay = Math.sqrt(Math.max(0, exchange.lossSlopeAt(temperature)) / (branch.thermalConductivity.at(temperature) * area));
  return Math.min(maxElements, Math.max(1, Math.ceil((decay * branch.length) / decaysPerElement)));
}

function copyInto(target: FrameState, source: FrameState): void {
  source.branches.forEach((from, b) => {
    target.branches[b]!.temperatures.set(from.temperatures);
    target.branches[b]!.current = from.current;
  });
  target.junctionTemperatures.set(source.junctionTemperatures);
  target.potentials.set(source.potentials);
  target.sourceCurrents.set(source.sourceCurrents);
}

class SteadyModel implements ElectroThermalModel {
  readonly network: ElectroThermalNetwork;
  private readonly ambient: number;
  private readonly firstMesh: readonly number[];
  /** Workspaces by mesh, so that repeated solves allocate little. */
  private readonly branchPools: Map<number, BranchState>[];
  private readonly systems = new Map<string, { system: NewtonSystem; coldSign: number }>();

  constructor(network: ElectroThermalNetwork) {
    checkNetwork(network);
    requireHeatPath(network);
    this.network = network;
    this.ambient = coldestSurroundings(network);
    this.firstMesh = network.branches.map((branch) => firstMeshSize(branch, this.ambient));
    this.branchPools = network.branches.map(() => new Map());
  }

  solve(sources: readonly ElectricSource[], options: SteadyOptions = {}): SteadyOutcome {
    const found = this.solveUnlimited(sources, options);
    if (found.outcome !== "steady") return found;
    const over = sources.findIndex(
      (source, s) =>
        source.kind === "voltage" &&
        source.currentLimit !== undefined &&
        Math.abs(found.sourceCurrents[s]!) > source.currentLimit,
    );
    if (over < 0) return found;
    const held = sources.map((source, s): ElectricSource => {
      if (s !== over || source.kind !== "voltage") return source;
      const current = Math.sign(found.sourceCurrents[s]!) * source.currentLimit!;
      return { kind: "current", current, plus: source.plus, minus: source.minus };
    });
    const limited = this.solve(held, options);
    if (limited.outcome !== "steady") return limited;
    return { ...limited, isLimited: limited.isLimited.map((already, s) => already || s === over) };
  }

  private solveUnlimited(sources: readonly ElectricSource[], options: SteadyOptions): SteadyOutcome {
    const { system, coldSign } = this.systemFor(sources);
    let state = this.stateOn(options.start?.fields.map((field) => field.nElements) ?? this.firstMesh, sources.length);
    if (options.start === undefined) this.makeCold(state);
    else this.makeLike(state, options.start);
    let iterations = this.findAt(state, { system, sources, coldSign, fraction: 1 });
    if (iterations < 0) {
      const lost = this.raiseDrive(state, { system, sources, coldSign });
      if (lost !== undefined) return lost;
      iterations = 0;
    }
    const target = options.energyTarget ?? 1e-6;
    for (let refinement = 0; ; refinement++) {
      const { balance, branchDefects } = balanceEnergy(state, system, sources);
      const limit = (target * balance.scale) / state.branches.length;
      const sizes = state.branches.map((branch, b) =>
        branchDefects[b]! > limit || (branch.nElements < finestForTail && spectralTail(branch) > tailTarget)
          ? Math.min(maxElements, 2 * branch.nElements)
          : branch.nElements,
      );
      const isFinest = sizes.every((size, b) => size === state.branches[b]!.nElements);
      if (isFinest || refinement === maxRefinements) return this.report(state, { system, sources, balance, iterations });
      const fields = state.branches.map(fieldOfBranch);
      const coarse = state;
      state = this.stateOn(sizes, sources.length);
      for (const [b, branch] of state.branches.entries()) carryField(branch, fields[b]!);
      state.junctionTemperatures.set(coarse.junctionTemperatures);
      const more = this.findAt(state, { system, sources, coldSign, fraction: 1 });
      if (more < 0) return this.report(coarse, { system, sources, balance, iterations });
      iterations += more;
    }
  }

  private systemFor(sources: readonly ElectricSource[]): { system: NewtonSystem; coldSign: number } {
    const key = sources.map((source) => `${source.kind} ${source.plus} ${source.minus}`).join("|");
    const known = this.systems.get(key);
    if (known !== undefined) return known;
    const system = createNewtonSystem(this.network, createTopology(this.network, sources));
    const cold = this.stateOn(this.firstMesh, sources.length);
    this.makeCold(cold);
    const made = { system, coldSign: determinantSign(cold, { system, sources, fraction: 0 }) };
    this.systems.set(key, made);
    return made;
  }

  private stateOn(sizes: readonly number[], nSources: number): FrameState {
    const { network } = this;
    const branches = network.branches.map((branch, b) => {
      const pool = this.branchPools[b]!;
      const known = pool.get(sizes[b]!);
      if (known !== undefined) return known;
      const made = createBranchState(branch, sizes[b]!, this.ambient);
      pool.set(sizes[b]!, made);
      return made;
    });
    const n = network.junctions.length;
    return {
      branches,
      junctionTemperatures: Float64Array.from(network.junctions, (junction) => junction.temperature ?? this.ambient),
      potentials: new Float64Array(network.nTerminals + n),
      sourceCurrents: new Float64Array(nSources),
    };
  }

  private makeCold(state: FrameState): void {
    for (let j = 0; j < state.junctionTemperatures.length; j++) {
      state.junctionTemperatures[j] = this.network.junctions[j]!.temperature ?? this.ambient;
    }
    for (const branch of state.branches) {
      const from = state.junctionTemperatures[branch.branch.from]!;
      const to = state.junctionTemperatures[branch.branch.to]!;
      for (let i = 0; i < branch.temperatures.length; i++) {
        branch.temperatures[i] = from + ((to - from) * branch.positions[i]!) / branch.branch.length;
      }
      branch.current = 0;
    }
  }

  private makeLike(state: FrameState, start: SteadyState): void {
    for (let j = 0; j < state.junctionTemperatures.length; j++) {
      state.junctionTemperatures[j] = this.network.junctions[j]!.temperature ?? start.junctionTemperatures[j]!;
    }
    state.branches.forEach((branch, b) => {
      branch.temperatures.set(start.fields[b]!.temperatures);
      branch.temperatures[0] = state.junctionTemperatures[branch.branch.from]!;
      branch.temperatures[branch.temperatures.length - 1] = state.junctionTemperatures[branch.branch.to]!;
      branch.current = start.fields[b]!.current;
    });
  }

  /** Newton at one fraction of the drive. Returns the steps spent, or -1 when no acceptable state was found. */
  private findAt(
    state: FrameState,
    drive: { system: NewtonSystem; sources: readonly ElectricSource[]; coldSign: number; fraction: number },
  ): number {
    const outcome = iterateNewton(state, drive, stepTolerance);
    if (!outcome.isConverged || outcome.sign !== drive.coldSign) return -1;
    const slack = 1e-6 * this.ambient;
    for (const branch of state.branches) {
      for (const T of branch.temperatures) if (!(T >= this.ambient - slack)) return -1;
    }
    return outcome.iterations;
  }

  private raiseDrive(
    state: FrameState,
    drive: { system: NewtonSystem; sources: readonly ElectricSource[]; coldSign: number },
  ): NoSteadyState | undefined {
    this.makeCold(state);
    const kept: FrameState = {
      branches: state.branches.map((branch) => createBranchState(branch.branch, branch.nElements, this.ambient)),
      junctionTemperatures: new Float64Array(state.junctionTemperatures.length),
      potentials: new Float64Array(state.potentials.length),
      sourceCurrents: new Float64Array(state.sourceCurrents.length),
    };
    copyInto(kept, state);
    let reached = 0;
    let step = 0.25;
    let failed = 1;
    while (reached < 1) {
      const fraction = Math.min(1, reached + step);
      if (this.findAt(state, { ...drive, fraction }) >= 0) {
        reached = fraction;
        copyInto(kept, state);
        continue;
      }
      failed = fraction;
      copyInto(state, kept);
      step /= 2;
      if (step < smallestDriveStep) {
        const hottest = kept.branches.reduce((max, branch) => branch.temperatures.reduce((m, T) => Math.max(m, T), max), 0);
        return {
          outcome: "no steady state",
          reachedFraction: reached,
          failedFraction: failed,
          reachedTemperature: hottest,
          reason: `heat is lost more slowly than it is made above ${(100 * reached).toFixed(2)} % of the drive`,
        };
      }
    }
    return undefined;
  }

  private report(
    state: FrameState,
    found: { system: NewtonSystem; sources: readonly ElectricSource[]; balance: EnergyBalance; iterations: number },
  ): SteadyState {
    const { system, sources, balance, iterations } = found;
    const { nodeOfJunction } = system.topology;
    return {
      outcome: "steady",
      fields: state.branches.map(fieldOfBranch),
      junctionTemperatures: Float64Array.from(state.junctionTemperatures),
      junctionPotentials: Float64Array.from(nodeOfJunction, (node) => state.potentials[node]!),
      terminalPotentials: state.potentials.slice(0, this.network.nTerminals),
      sourceCurrents: state.sourceCurrents.slice(0, sources.length),
      sourceVoltages: Float64Array.from(sources, (source) => state.potentials[source.plus]! - state.potentials[source.minus]!),
      isLimited: sources.map(() => false),
      energy: balance,
      iterations,
    };
  }
}

/** Puts a field on another mesh of the same branch. Element boundaries keep their nodal values. */
function carryField(target: BranchState, field: BranchField): void {
  for (let i = 0; i < target.positions.length; i++) target.temperatures[i] = temperatureAlong(field, target.positions[i]!);
  target.temperatures[0] = field.temperatures[0]!;
  target.temperatures[target.temperatures.length - 1] = field.temperatures[field.nElements * degree]!;
  target.current = field.current;
}

/** A model of the network that keeps its workspace between solves. */
export function createElectroThermalModel(network: ElectroThermalNetwork): ElectroThermalModel {
  return new SteadyModel(network);
}
