/**
 * A frame model: solve for equilibria, linear answers, stiffnesses, blocked forces; results by branch and junction.
 *
 * Main test: frame-theory.test.ts.
 */
import { elementSize, resultantAt } from "./beam-element.ts";
import { type ChainState, createChain } from "./chain.ts";
import { type FrameWorkspace, flexibilityOf, followPath, type LoadPath, setHeldMotions, stepLinearly } from "./equilibrium.ts";
import { branchVector, checkFrame, type FrameLoad, type FrameNetwork, type JunctionMotion, motionIndex } from "./frame.ts";

/** Motions, forces and strains of a solved frame, to start a neighbouring solve from. Opaque. */
export interface FrameMotions {
  /** [nJunctions x 3] m, m, rad */
  readonly motions: Float64Array;
  /** Per branch [(nElements + 1) x 3]. */
  readonly chainMotions: readonly Float64Array[];
  readonly strains: readonly Float64Array[];
  readonly forces: Float64Array;
}

export interface BranchForces {
  /** Axial force of each element [N], tension positive. */
  readonly axialForces: Float64Array;
  /** Bending moment at each node [N m]; positive makes the beam curve counter-clockwise on going along it. */
  readonly moments: Float64Array;
  /** Motions of each node [(nElements + 1) x 3] m, m, rad. */
  readonly motions: Float64Array;
  /** Largest |N|/A + |M| depth/(2 I) [Pa], and the node where it stands. */
  readonly peakStress: number;
  readonly peakNode: number;
}

export interface Equilibrium {
  readonly outcome: "equilibrium";
  /** [nJunctions x 3] m, m, rad */
  readonly motions: Float64Array;
  /** Force that the surroundings put on each held motion [nJunctions x 3] N, N, N m; 0 on free ones. */
  readonly reactions: Float64Array;
  readonly branches: readonly BranchForces[];
  /** Negative eigenvalues of the tangent; 0 = stable. */
  readonly nNegative: number;
  /** Load factor at which the path first became unstable, if it did. */
  readonly firstUnstableFactor: number | undefined;
  /** Tangent stiffness at this state for each motion asked for [N/m], [N m/rad]; it is negative where the state would run away. */
  readonly stiffnesses: readonly number[];
  readonly state: FrameMotions;
  /** Factorisations spent. */
  readonly passes: number;
}

/** The path ended before the full load: a limit point (snap-through), or no convergence. */
export interface NoEquilibrium {
  readonly outcome: "no equilibrium";
  readonly reachedFactor: number;
  readonly reason: string;
}

export interface FrameSolveOptions {
  /** A state of the same frame near the one wanted. */
  readonly start?: FrameMotions;
  /** Motions whose tangent stiffness is wanted. */
  readonly stiffnessOf?: readonly JunctionMotion[];
  /** Largest motion in one step [m]; a quarter of the thinnest beam where left out. */
  readonly largestMove?: number;
}

export interface FrameModel {
  readonly network: FrameNetwork;
  /** Large displacements. */
  solve(load: FrameLoad, options?: FrameSolveOptions): Equilibrium | NoEquilibrium;
  /** Classical linear answer about the stress-free shape: motions [nJunctions x 3]. */
  solveLinear(load: FrameLoad): Float64Array;
}

class PlanarFrame implements FrameModel {
  readonly network: FrameNetwork;
  private readonly work: FrameWorkspace;
  private readonly thinnest: number;

  constructor(network: FrameNetwork) {
    checkFrame(network);
    this.network = network;
    this.thinnest = Math.min(...network.branches.map((branch) => branch.section.depth));
    const n = 3 * network.junctions.length;
    this.work = {
      network,
      chains: network.branches.map((branch) => {
        const { dx, dy, length } = branchVector(network, branch);
        const count = branch.nElements;
        const { area, secondMoment } = branch.section;
        const shape = {
          dx: dx / count,
          dy: dy / count,
          length: length / count,
          area,
          secondMoment,
          effectiveShearModulus: branch.effectiveShearModulus,
        };
        return createChain(shape, count);
      }),
      motions: new Float64Array(n),
      tangent: new Float64Array(n * n),
      factors: new Float64Array(n * n),
      unbalanced: new Float64Array(n),
      unbalancedSlope: new Float64Array(n),
      internal: new Float64Array(n),
      corrector: new Float64Array(n),
      predictor: new Float64Array(n),
      freeMotions: new Int32Array(n),
      rowOfMotion: new Int32Array(n),
      nFree: 0,
    };
  }

  solve(load: FrameLoad, options: FrameSolveOptions = {}): Equilibrium | NoEquilibrium {
    const { work } = this;
    const path = this.preparePath(load, options);
    const outcome = followPath(work, path);
    if (outcome.outcome === "lost") {
      // A start too far away is no answer about the load: follow the whole path from the stress-free state.
      if (options.start !== undefined) {
        const { start: _, ...rest } = options;
        return this.solve(load, rest);
      }
      const percent = (100 * outcome.loadFactor).toFixed(1);
      return {
        outcome: "no equilibrium",
        reachedFactor: outcome.loadFactor,
        reason: `the frame leaves its shape by a jump at ${percent} % of the load (snap-through or buckling)`,
      };
    }
    const stiffnesses = (options.stiffnessOf ?? []).map(
      ({ junction, motion }) => 1 / flexibilityOf(work, 3 * junction + motionIndex[motion]),
    );
    return this.report(path, {
      nNegative: outcome.nNegative,
      passes: outcome.passes,
      firstUnstableFactor: outcome.firstUnstableFactor,
      stiffnesses,
    });
  }

  solveLinear(load: FrameLoad): Float64Array {
    const path = this.preparePath(load, {});
    if (!stepLinearly(this.work, path))
      throw new RangeError("Cannot solve the frame linearly: it is a mechanism (some part is not supported)");
    return Float64Array.from(this.work.motions);
  }

  private preparePath(load: FrameLoad, options: FrameSolveOptions): LoadPath {
    const { work, network } = this;
    const { start } = options;
    setHeldMotions(work, load);
    const n = work.motions.length;
    if (start === undefined) work.motions.fill(0);
    else work.motions.set(start.motions);
    work.chains.forEach((chain, b) => {
      if (start === undefined) chain.motions.fill(0);
      else chain.motions.set(start.chainMotions[b]!);
      const strain = load.freeStrains?.[b] ?? 0;
      const modulus = load.moduli?.[b] ?? network.branches[b]!.youngsModulus;
      requireLength(strain, chain, `free strains of beam ${b}`);
      requireLength(modulus, chain, `moduli of beam ${b}`);
      for (let e = 0; e < chain.nElements; e++) {
        const from = start === undefined ? 0 : start.strains[b]![e]!;
        chain.strainStart[e] = from;
        chain.strainChange[e] = (typeof strain === "number" ? strain : strain[e]!) - from;
        chain.moduli[e] = typeof modulus === "number" ? modulus : modulus[e]!;
      }
    });
    const forceStart = start === undefined ? new Float64Array(n) : Float64Array.from(start.forces);
    const forceChange = Float64Array.from(forceStart, (force) => -force);
    for (const { junction, motion, value } of load.forces ?? []) {
      const i = 3 * junction + motionIndex[motion];
      forceChange[i] = forceChange[i]! + value;
    }
    const heldChange = new Float64Array(n);
    for (const { junction, motion, value } of load.held ?? []) {
      const i = 3 * junction + motionIndex[motion];
      heldChange[i] = value - work.motions[i]!;
    }
    return { forceStart, forceChange, heldChange, largestMove: options.largestMove ?? 0.25 * this.thinnest };
  }

  private report(
    path: LoadPath,
    found: Pick<Equilibrium, "nNegative" | "passes" | "firstUnstableFactor" | "stiffnesses">,
  ): Equilibrium {
    const { work, network } = this;
    const forces = Float64Array.from(path.forceStart, (force, i) => force + path.forceChange[i]!);
    const motions = Float64Array.from(work.motions);
    const branches = work.chains.map((chain, b) => branchForces(chain, network.branches[b]!.section));
    return {
      outcome: "equilibrium",
      motions,
      reactions: Float64Array.from(work.internal, (force, i) => (work.rowOfMotion[i] === -1 ? force - forces[i]! : 0)),
      branches,
      ...found,
      state: {
        motions,
        chainMotions: branches.map((branch) => branch.motions),
        strains: work.chains.map((chain) => Float64Array.from(chain.strainStart, (strain, e) => strain + chain.strainChange[e]!)),
        forces,
      },
    };
  }
}

function requireLength(values: number | Float64Array, chain: ChainState, what: string): void {
  if (typeof values === "number" || values.length === chain.nElements) return;
  throw new RangeError(`Cannot use the ${what}: wanted ${chain.nElements} numbers, found ${values.length}`);
}

function branchForces(chain: ChainState, section: FrameNetwork["branches"][number]["section"]): BranchForces {
  const { nElements, elements } = chain;
  const axialForces = new Float64Array(nElements);
  const moments = new Float64Array(nElements + 1);
  let peakStress = 0;
  let peakNode = 0;
  const fibre = section.depth / (2 * section.secondMoment);
  for (let e = 0; e < nElements; e++) {
    const at = e * elementSize + resultantAt;
    const N = elements[at]!;
    axialForces[e] = N;
    // The start moment acts on the element, so the bending moment inside is its opposite; neighbours agree at equilibrium.
    const start = -elements[at + 1]!;
    const end = elements[at + 2]!;
    if (e === 0) moments[0] = start;
    moments[e + 1] = end;
    for (const [moment, node] of [
      [start, e],
      [end, e + 1],
    ] as const) {
      const stress = Math.abs(N) / section.area + Math.abs(moment) * fibre;
      if (stress > peakStress) {
        peakStress = stress;
        peakNode = node;
      }
    }
  }
  return { axialForces, moments, motions: Float64Array.from(chain.motions), peakStress, peakNode };
}

/** A frame model that keeps its workspace between solves. */
export function createFrameModel(network: FrameNetwork): FrameModel {
  return new PlanarFrame(network);
}

export type BlockedForce =
  | { readonly outcome: "blocked"; readonly force: number; readonly equilibrium: Equilibrium }
  | { readonly outcome: "none"; readonly reason: string };

/**
 * Force with which the frame pushes along a motion that is held at `value` (0 where left out) [N].
 * There is none when the held frame is unstable: legs under compression buckle before they deliver it.
 */
export function findBlockedForce(
  model: FrameModel,
  load: FrameLoad,
  options: FrameSolveOptions & JunctionMotion & { readonly value?: number },
): BlockedForce {
  const { junction, motion, value, ...solveOptions } = options;
  const held = [...(load.held ?? []), { junction, motion, value: value ?? 0 }];
  const found = model.solve({ ...load, held }, solveOptions);
  if (found.outcome !== "equilibrium") return { outcome: "none", reason: found.reason };
  if (found.nNegative > 0) {
    return { outcome: "none", reason: "the held frame is unstable: its legs buckle sideways before they push with this force" };
  }
  return { outcome: "blocked", force: -found.reactions[3 * junction + motionIndex[motion]]!, equilibrium: found };
}
