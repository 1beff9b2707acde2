/**
 * A frame model: states of balance, linear answers, first-order neighbours. Keeps its numbering and workspace between solves, and
 * shares them with every model of the same topology, so that a model with other sizes costs little more than its numbers.
 *
 * Validity: small strains, any displacement and rotation; local rotations of one element below about 0.3 rad (more elements
 * otherwise, see discretisation.ts). Main test: frame-theory.test.ts.
 */
import { SolveError } from "#base";
import { elementSize, resultantAt } from "./beam-element.ts";
import { addInto, createFollowBuffers, type FollowBuffers, followPath, settle } from "./follow.ts";
import { refuseFreeMotion } from "./free-motion.ts";
import { type LoadPath, layPath, markHeld, type ResolvedLoad, resolveLoad } from "./load-path.ts";
import type { FrameLoad, FrameNetwork, HeldMotion } from "./network.ts";
import { checkNetwork, createNumbers, type FrameNumbers } from "./numbers.ts";
import { numberRows, type RowNumbering } from "./row-numbering.ts";
import type { FrameEquilibrium, FrameState, NoEquilibrium, StateExtent } from "./state.ts";
import { FrameSystem } from "./system.ts";
import { createTopology, type FrameTopology, isSameTopology } from "./topology.ts";

export interface FrameSolveOptions {
  /** A state near the one wanted, of this model or of one with the same topology. */
  readonly start?: FrameState;
  /** True: unstable states count as answers too, and the path goes on through a loss of stability. */
  readonly allowUnstable?: boolean;
  /** Largest motion in one step, [m]; a quarter of the thinnest beam where left out. */
  readonly largestMove?: number;
}

/** What models of one topology share. */
interface SharedWorkspace {
  readonly system: FrameSystem;
  readonly buffers: FollowBuffers;
  readonly rows: Map<string, RowNumbering>;
  /** The state that the system stands at, of which model, and whether its tangent is factored. */
  stands: { readonly state: FrameState; readonly model: FrameModel; isFactored: boolean } | undefined;
}

export class FrameModel {
  readonly network: FrameNetwork;
  readonly topology: FrameTopology;
  readonly numbers: FrameNumbers;
  private readonly shared: SharedWorkspace;

  constructor(network: FrameNetwork, like: FrameModel | undefined) {
    checkNetwork(network);
    this.network = network;
    const topology = createTopology(network);
    if (like !== undefined && isSameTopology(topology, like.topology)) {
      this.topology = like.topology;
      this.shared = like.shared;
    } else {
      const system = new FrameSystem(topology);
      this.topology = topology;
      this.shared = { system, buffers: createFollowBuffers(system), rows: new Map(), stands: undefined };
    }
    this.numbers = createNumbers(network, this.topology);
  }

  /** A stable state of balance on the path from the unstrained frame, or near `start`. */
  solve(load: FrameLoad, options: FrameSolveOptions = {}): FrameEquilibrium | NoEquilibrium {
    const { system, buffers } = this.shared;
    const { start } = options;
    const to = resolveLoad(load, this);
    const follow = {
      largestMove: options.largestMove ?? 0.25 * this.numbers.thinnest,
      allowUnstable: options.allowUnstable === true,
    };
    this.shared.stands = undefined;
    if (start !== undefined) {
      this.requireState(start);
      const near = { load: start.load, motions: start.allMotions, reactions: start.reactions };
      const path = layPath(to, { topology: this.topology, start: near });
      this.begin(path, { held: to.held, start });
      const settled = settle(system, buffers, { ...follow, nNegative: start.nNegative, heldLeft: path.heldChange });
      if (settled !== undefined) return this.report(to, { ...settled, firstUnstableFactor: undefined, cameFrom: "start" });
      if (start.nNegative === 0 || follow.allowUnstable) {
        this.begin(path, { held: to.held, start });
        const followed = followPath(system, buffers, follow);
        if (followed.outcome === "reached") return this.report(to, { ...followed, cameFrom: "start" });
      }
    }
    this.begin(layPath(to, { topology: this.topology }), { held: to.held, start: undefined });
    const found = followPath(system, buffers, follow);
    if (found.outcome === "reached") return this.report(to, { ...found, cameFrom: "unstrained frame" });
    // a mechanism is a fault of the model, not a loss of stability
    if (found.loadFactor === 0) this.refuseMechanism(to);
    return { outcome: "no equilibrium", reachedFactor: found.loadFactor, reason: reasonOf(found) };
  }

  /** Classical linear answer about the unstrained shape, stops out of reach: motions [nJunctions × 3] m, m, rad. */
  solveLinear(load: FrameLoad): Float64Array {
    const { system, buffers } = this.shared;
    const to = resolveLoad(load, this);
    this.shared.stands = undefined;
    this.begin(layPath(to, { topology: this.topology }), { held: to.held, start: undefined });
    system.evaluate(0);
    refuseFreeMotion(system, system.factor());
    system.slopeInto(buffers.predictor);
    system.solveInto(buffers.predictor);
    return buffers.predictor.slice(0, 3 * this.topology.nJunctions);
  }

  /**
   * First-order change of all motions (flat, see topology.ts) from a state of this model to the state of `neighbour`, a model of the
   * same topology with slightly other numbers, under `load`: one evaluation and one back substitution. Error: second order in the change.
   */
  changeTo(state: FrameState, neighbour: { readonly model: FrameModel; readonly load: FrameLoad }): Float64Array {
    const { model, load } = neighbour;
    if (model.shared !== this.shared) {
      throw new RangeError("Cannot compare two frames: wanted models made alike, found two of separate workspaces");
    }
    const to = resolveLoad(load, model);
    const path = layPath(to, {
      topology: this.topology,
      start: { load: state.load, motions: state.allMotions, reactions: state.reactions },
    });
    const system = this.standAt(state, { factored: true });
    const rows = system.rows;
    const change = new Float64Array(this.topology.nMotions);
    const other = this.rowsFor(to.held);
    if (other !== rows) throw new RangeError("Cannot compare two frames: wanted the same held motions under both loads");
    system.use(model.numbers, rows, path);
    system.evaluate(1);
    system.residualInto(change);
    // the neighbour's offsets carry its end forces; all else is done with the state's elements and offsets, as its factors are
    system.gatherEnds(change);
    this.place(state, this.restPath(state));
    system.imposeHeldBy(change, path.heldChange);
    system.solveInto(change);
    system.imposeNothing();
    this.shared.stands = { state, model: this, isFactored: true };
    return change;
  }

  /** The system, evaluated at a state of this model, and factored where asked. */
  standAt(state: FrameState, options: { readonly factored: boolean }): FrameSystem {
    const { shared } = this;
    const { system } = shared;
    const { stands } = shared;
    if (stands?.state === state && stands.model === this && (stands.isFactored || !options.factored)) return system;
    this.requireState(state);
    this.place(state, this.restPath(state));
    let isFactored = false;
    if (options.factored) {
      if (system.factor() < 0) {
        throw new SolveError("Cannot take the stiffness of the frame: its state is exactly critical", {
          method: "factorisation",
          iterations: 0,
          residual: 0,
          target: 0,
          hint: "A slightly smaller or larger load has a stiffness.",
        });
      }
      isFactored = true;
    }
    system.imposeNothing();
    shared.stands = { state, model: this, isFactored };
    return system;
  }

  /** The system ready to walk along a path, at the state or at the unstrained frame. For the modules of this folder. */
  begin(path: LoadPath, options: { readonly held: readonly HeldMotion[]; readonly start: FrameState | undefined }): FrameSystem {
    const { system } = this.shared;
    this.shared.stands = undefined;
    system.use(this.numbers, this.rowsFor(options.held), path);
    if (options.start === undefined) {
      system.motions.fill(0);
      system.isClosed.fill(0);
    } else {
      system.motions.set(options.start.allMotions);
      system.isClosed.set(options.start.isClosed);
    }
    return system;
  }

  get buffers(): FollowBuffers {
    return this.shared.buffers;
  }

  /** Makes a state of what the system stands at, evaluated at the full load. */
  report(
    load: ResolvedLoad,
    found: Pick<FrameEquilibrium, "nNegative" | "passes" | "firstUnstableFactor" | "cameFrom">,
  ): FrameEquilibrium {
    const { system } = this.shared;
    const { topology } = this;
    const allMotions = system.motions.slice();
    const state: FrameEquilibrium = {
      outcome: "equilibrium",
      allMotions,
      motions: allMotions.subarray(0, 3 * topology.nJunctions),
      isClosed: system.isClosed.slice(),
      load,
      reactions: this.reactionsNow(),
      stops: (this.network.stops ?? []).map((stop, s) => ({
        name: stop.name,
        isClosed: system.isClosed[s] === 1,
        force: allMotions[topology.stopsAt + s]!,
        gap: system.gapOf(s),
      })),
      nNegative: found.nNegative,
      passes: found.passes,
      firstUnstableFactor: found.firstUnstableFactor,
      cameFrom: found.cameFrom,
      extent: this.extentNow(),
    };
    system.imposeNothing();
    this.shared.stands = { state, model: this, isFactored: found.passes > 0 };
    return state;
  }

  private extentNow(): StateExtent {
    const { elements } = this.shared.system;
    const { inputs } = this.numbers;
    let bend = 0;
    let strain = 0;
    for (let e = 0; e < inputs.length; e++) {
      const { shape, youngsModulus } = inputs[e]!;
      const at = e * elementSize + resultantAt;
      const N = elements[at]!;
      const m1 = elements[at + 1]!;
      const m2 = elements[at + 2]!;
      const EI = youngsModulus * shape.secondMoment;
      // turns against the chord of a beam bent by its end moments
      const turn = (Math.max(Math.abs(2 * m1 - m2), Math.abs(2 * m2 - m1)) * shape.length) / (6 * EI);
      const halfWidth = Math.sqrt((3 * shape.secondMoment) / shape.area);
      const fibre = Math.abs(N) / (youngsModulus * shape.area) + (Math.max(Math.abs(m1), Math.abs(m2)) * halfWidth) / EI;
      if (turn > bend) bend = turn;
      if (fibre > strain) strain = fibre;
    }
    return { bend, strain };
  }

  private reactionsNow(): Float64Array {
    const { system } = this.shared;
    const { topology } = this;
    const x = new Float64Array(topology.nMotions);
    system.residualInto(x);
    system.gatherEnds(x);
    const reactions = new Float64Array(3 * topology.nJunctions);
    const { rowOfMotion } = system.rows;
    for (let i = 0; i < reactions.length; i++) if (rowOfMotion[i] === -1) reactions[i] = 0 - x[i]!;
    return reactions;
  }

  private restPath(state: FrameState): LoadPath {
    const near = { load: state.load, motions: state.allMotions, reactions: state.reactions };
    return layPath(state.load, { topology: this.topology, start: near });
  }

  private place(state: FrameState, path: LoadPath): void {
    const system = this.begin(path, { held: state.load.held, start: state });
    system.evaluate(1);
  }

  private rowsFor(held: readonly HeldMotion[]): RowNumbering {
    const isHeld = markHeld(this.topology, held);
    const key = isHeld.join("");
    const known = this.shared.rows.get(key);
    if (known !== undefined) return known;
    const rows = numberRows(this.topology, isHeld);
    this.shared.rows.set(key, rows);
    return rows;
  }

  private refuseMechanism(load: ResolvedLoad): void {
    const system = this.begin(layPath(load, { topology: this.topology }), { held: load.held, start: undefined });
    system.evaluate(0);
    refuseFreeMotion(system, system.factor());
  }

  private requireState(state: FrameState): void {
    if (state.allMotions.length === this.topology.nMotions) return;
    throw new RangeError(
      `Cannot start from this state: wanted ${this.topology.nMotions} motions, found ${state.allMotions.length}: another frame's`,
    );
  }
}

/** Motions of a state plus a first-order change, as a state of `model`: not in balance, but off by second order only. */
export function estimateNeighbour(
  state: FrameState,
  neighbour: { readonly from: FrameModel; readonly model: FrameModel; readonly load: FrameLoad },
): FrameEquilibrium {
  const change = neighbour.from.changeTo(state, neighbour);
  const { model } = neighbour;
  const load = resolveLoad(neighbour.load, model);
  const path = layPath(load, {
    topology: model.topology,
    start: { load, motions: state.allMotions, reactions: state.reactions },
  });
  const system = model.begin(path, { held: load.held, start: state });
  addInto(system.motions, change, 1);
  system.evaluate(1);
  return model.report(load, {
    nNegative: state.nNegative,
    passes: 0,
    firstUnstableFactor: undefined,
    cameFrom: "start",
  });
}

function reasonOf(found: { readonly cause: "singular" | "limit" | "unstable"; readonly loadFactor: number }): string {
  const part = `${(100 * found.loadFactor).toPrecision(4)} % of the load`;
  if (found.cause === "unstable") return `beyond ${part} the frame is unstable on its path: it buckles out of it`;
  return `beyond ${part} there is no neighbouring state: the frame snaps through`;
}

/** `like`: a model of the same topology, whose numbering and workspace are shared; one of another topology is no harm. */
export function createFrameModel(network: FrameNetwork, options: { readonly like?: FrameModel } = {}): FrameModel {
  return new FrameModel(network, options.like);
}
