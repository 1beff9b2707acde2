/**
 * Steady states of an electro-thermal frame: temperatures, currents, power and an independent energy balance.
 *
 * Voltage drives converge from cold in a few Newton steps. Where they do not, or where the state found is not stable, the drive
 * is raised from zero in steps that are halved on failure; if it cannot be raised to the full value there is no steady state
 * (thermal run-away) and the result says at which part of the drive it was lost. Meshes are refined until the energy defect is
 * below its target. Validity: slender branches, laws smooth over the temperatures met (the result tells them; the caller
 * compares them with the range of the laws). Main test: electro-thermal-theory.test.ts.
 */

import type { BranchState } from "./branch-state.ts";
import { balanceEnergy, type EnergyBalance } from "./energy-balance.ts";
import { coldSign, createEquations, type FrameEquations } from "./frame-equations.ts";
import { createLayout } from "./frame-layout.ts";
import { type FrameSolution, readSolution } from "./frame-solution.ts";
import { carryFieldsInto, createBranchStates, readBranches, spreadTemperaturesInto } from "./frame-state.ts";
import {
  checkNetwork,
  type ElectricSource,
  type ElectroThermalBranch,
  type ElectroThermalNetwork,
  numberAlong,
} from "./network.ts";
import { iterateNewton } from "./newton.ts";
import { spectralTail } from "./spectral-tail.ts";
import { requireHeatPath } from "./topology.ts";

export interface SteadyState extends FrameSolution {
  readonly outcome: "steady";
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
  readonly start?: FrameSolution;
  /** Relative energy defect to reach by refinement; 1e-6 where left out. A kinked law may stop above it: see `energy`. */
  readonly energyTarget?: number;
  /** Temperature [K] beyond which no state is wanted: on the way to one that is hotter the drive is raised no further. */
  readonly hottest?: number;
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

export function coldestSurroundings(network: ElectroThermalNetwork): number {
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

function hottestOf(x: Float64Array, nTemperatures: number): number {
  return x.subarray(0, nTemperatures).reduce((most, T) => Math.max(most, T), 0);
}

/** Equations on one mesh with the room to solve them. */
interface SteadySystem {
  readonly equations: FrameEquations;
  readonly branches: readonly BranchState[];
  readonly x: Float64Array;
  readonly coldSign: number;
  /** The state next to which its tangent was last factored, where that was the last thing done with it. */
  stands: FrameSolution | undefined;
}

class SteadyModel implements ElectroThermalModel {
  readonly network: ElectroThermalNetwork;
  private readonly ambient: number;
  private readonly firstMesh: readonly number[];
  /** By mesh and sources, so that repeated solves allocate little. */
  private readonly systems = new Map<string, SteadySystem>();

  constructor(network: ElectroThermalNetwork) {
    checkNetwork(network);
    requireHeatPath(network);
    this.network = network;
    this.ambient = coldestSurroundings(network);
    this.firstMesh = network.branches.map((branch) => firstMeshSize(branch, this.ambient));
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
    const { start } = options;
    let system = this.systemFor(start?.fields.map((field) => field.nElements) ?? this.firstMesh, sources);
    if (start === undefined) this.makeCold(system);
    else this.makeLike(system, start);
    // next to the state that this very system was last left at, its tangent still holds
    const isFactored = start !== undefined && start === system.stands;
    let iterations = this.findAt(system, { sources, fraction: 1, isFactored });
    if (iterations < 0) {
      const lost = this.raiseDrive(system, sources, options.hottest ?? Number.POSITIVE_INFINITY);
      if (lost !== undefined) return lost;
      iterations = 0;
    }
    const target = options.energyTarget ?? 1e-6;
    for (let refinement = 0; ; refinement++) {
      const { equations, branches, x } = system;
      readBranches(branches, x, equations.layout);
      const { balance, branchDefects } = balanceEnergy(equations, { x, branches, sources });
      // Where the whole balances, what single branches miss is told by the same part of the whole; else all that add to it are refined.
      const limit = (target * balance.scale) / (balance.relativeDefect > target ? branches.length : 1);
      const sizes = branches.map((branch, b) =>
        branchDefects[b]! > limit || (branch.nElements < finestForTail && spectralTail(branch) > tailTarget)
          ? Math.min(maxElements, 2 * branch.nElements)
          : branch.nElements,
      );
      const isFinest = sizes.every((size, b) => size === branches[b]!.nElements);
      const state = this.report(system, { sources, balance, iterations });
      system.stands = state;
      if (isFinest || refinement === maxRefinements) return state;
      system = this.systemFor(sizes, sources);
      this.makeLike(system, state);
      const more = this.findAt(system, { sources, fraction: 1 });
      if (more < 0) return state;
      iterations += more;
    }
  }

  private systemFor(sizes: readonly number[], sources: readonly ElectricSource[]): SteadySystem {
    const key = `${sizes.join(" ")}|${sources.map(({ kind, plus, minus }) => `${kind} ${plus} ${minus}`).join("|")}`;
    const known = this.systems.get(key);
    if (known !== undefined) return known;
    const { network } = this;
    const layout = createLayout(network, { sizes, sources, storesHeat: false });
    const equations = createEquations(network, layout);
    const made: SteadySystem = {
      equations,
      branches: createBranchStates(network, layout),
      x: new Float64Array(layout.nEntries),
      coldSign: coldSign(equations, sources),
      stands: undefined,
    };
    this.systems.set(key, made);
    return made;
  }

  private makeCold(system: SteadySystem): void {
    spreadTemperaturesInto(system.x, this.network, {
      layout: system.equations.layout,
      junctionTemperatures: this.network.junctions.map(({ temperature }) => temperature ?? this.ambient),
    });
  }

  private makeLike(system: SteadySystem, start: FrameSolution): void {
    carryFieldsInto(system.x, this.network, { layout: system.equations.layout, ...start });
  }

  /** Newton at one fraction of the drive. Returns the steps spent, or -1 when no acceptable state was found. */
  private findAt(
    system: SteadySystem,
    at: { sources: readonly ElectricSource[]; fraction: number; isFactored?: boolean },
  ): number {
    const { x, equations } = system;
    const { isFactored = false, ...drive } = at;
    system.stands = undefined;
    const outcome = iterateNewton(x, equations, { drive, tolerance: stepTolerance, isFactored });
    if (!outcome.isConverged || outcome.sign !== system.coldSign) return -1;
    const slack = 1e-6 * this.ambient;
    for (let k = 0; k < equations.layout.nTemperatures; k++) if (!(x[k]! >= this.ambient - slack)) return -1;
    return outcome.iterations;
  }

  private raiseDrive(system: SteadySystem, sources: readonly ElectricSource[], hottest: number): NoSteadyState | undefined {
    const { x, equations } = system;
    const { nTemperatures } = equations.layout;
    this.makeCold(system);
    const kept = Float64Array.from(x);
    let reached = 0;
    let step = 0.25;
    let failed = 1;
    while (reached < 1) {
      const fraction = Math.min(1, reached + step);
      if (this.findAt(system, { sources, fraction }) >= 0) {
        reached = fraction;
        kept.set(x);
        const reachedTemperature = hottestOf(kept, nTemperatures);
        if (reachedTemperature > hottest && reached < 1)
          return {
            outcome: "no steady state",
            reachedFraction: reached,
            failedFraction: 1,
            reachedTemperature,
            reason: `it is hotter than ${hottest} K above ${(100 * reached).toFixed(2)} % of the drive`,
          };
        continue;
      }
      failed = fraction;
      x.set(kept);
      step /= 2;
      if (step < smallestDriveStep) {
        return {
          outcome: "no steady state",
          reachedFraction: reached,
          failedFraction: failed,
          reachedTemperature: hottestOf(kept, nTemperatures),
          reason: `heat is lost more slowly than it is made above ${(100 * reached).toFixed(2)} % of the drive`,
        };
      }
    }
    return undefined;
  }

  private report(
    system: SteadySystem,
    found: { sources: readonly ElectricSource[]; balance: EnergyBalance; iterations: number },
  ): SteadyState {
    return { outcome: "steady", ...readSolution(system, found.sources), energy: found.balance, iterations: found.iterations };
  }
}

/** A model of the network that keeps its workspace between solves. */
export function createElectroThermalModel(network: ElectroThermalNetwork): ElectroThermalModel {
  return new SteadyModel(network);
}
