/**
 * A planar frame of straight beams with free strains, large displacements, springs and loads: states of balance and their stability.
 *
 * Beams are cut into corotational elements; inner nodes come first in the numbering and joints last, so that the skyline stays short.
 * A state is sought in one go and kept only if it is stable and on the side of the linear answer; otherwise the strain and the load
 * are raised in steps of about a quarter of the thinnest beam (a large step may land on the snapped-through branch without complaint).
 * Free strain > 0 wants to lengthen. Residual tension in the material is a negative free strain. Said once, here.
 */
import { SolveError } from "#base";
import { addToSkyline, factorSkylineInPlace, solveSkylineInto } from "#numerics";
import { isAlong, isLike, largestChange } from "./compare-motions.ts";
import { createElementBuffers, type ElementStiffness, evaluateElementInto } from "./element.ts";
import { createLayout, type Layout } from "./layout.ts";

export interface FrameJoint {
  /** [m] */
  readonly x: number;
  readonly y: number;
  /** All three motions are held. */
  readonly fixed: boolean;
  /** Springs against motion along x and y [N/m]. */
  readonly springX?: number;
  readonly springY?: number;
}

export interface FrameMember {
  readonly from: number;
  readonly to: number;
  /** In the plane, across the beam, [m]. */
  readonly width: number;
  /** Out of the plane, [m]. */
  readonly thickness: number;
  /** [Pa] */
  readonly youngsModulus: number;
  /** [Pa]; left out where shear is ignored. */
  readonly shearModulus?: number;
  readonly nElements: number;
}

export interface PlanarFrame {
  readonly joints: readonly FrameJoint[];
  readonly members: readonly FrameMember[];
}

/** Displacement or force along one motion of a joint: 0 = x, 1 = y, 2 = rotation. */
export interface JointMotion {
  readonly joint: number;
  readonly motion: 0 | 1 | 2;
}

export interface FrameLoading {
  /** Free strain of every element of every member, [nMembers][nElements]. */
  readonly strains: readonly Float64Array[];
  readonly loads: readonly (JointMotion & { readonly value: number })[];
  /** Motions held at given values [m or rad]. */
  readonly held: readonly (JointMotion & { readonly value: number })[];
}

export interface MemberForces {
  /** Mean axial force [N], positive in tension. */
  readonly axialForce: number;
  /** Largest |N|/A + |M| w/(2 I) [Pa], and at which end of which element it stands, as a part of the length. */
  readonly peakStress: number;
  readonly peakAt: number;
  /** The same at the two ends, [2] Pa. */
  readonly endStresses: readonly [number, number];
  /** Moments at the two ends [2] N m. */
  readonly endMoments: readonly [number, number];
}

export interface FrameState {
  /** Displacements of the joints, [nJoints × 3] m, m, rad. */
  readonly joints: Float64Array;
  readonly members: readonly MemberForces[];
  /** Reaction of every held motion, in their order: force of the holder on the frame. */
  readonly reactions: Float64Array;
  /** Negative eigenvalues of the tangent: 0 = stable. */
  readonly nNegative: number;
  readonly iterations: number;
  /** All unknowns, to start a neighbouring solve from. */
  readonly unknowns: Float64Array;
}

interface ElementPlace {
  readonly member: number;
  readonly index: number;
  readonly stiffness: ElementStiffness;
  /** Node numbers of start and end. */
  readonly start: number;
  readonly end: number;
}

const longestNewton = 25;
/** Part of the load below which path following gives up. */
const smallestStep = 1e-5;

export class PlanarFrameModel {
  private readonly elements: ElementPlace[] = [];
  /** [nNodes × 2] m; joints first. */
  private readonly places: number[] = [];
  private readonly nNodes: number;
  private readonly buffers = createElementBuffers();
  /** Thinnest member: the length by which steps are judged, [m]. */
  private readonly thinnest: number;
  private readonly layouts = new Map<string, Layout>();

  constructor(readonly frame: PlanarFrame) {
    for (const { x, y } of frame.joints) this.places.push(x, y);
    for (const [m, member] of frame.members.entries()) this.meshMember(member, m);
    this.nNodes = this.places.length / 2;
    this.thinnest = Math.min(...frame.members.map((member) => member.width));
  }

  private meshMember(member: FrameMember, m: number): void {
    const from = this.frame.joints[member.from]!;
    const to = this.frame.joints[member.to]!;
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    if (!(length > 0)) throw new RangeError(`Cannot mesh member ${m}: its two ends stand in one place`);
    const L = length / member.nElements;
    const area = member.width * member.thickness;
    const bending = (member.youngsModulus * member.thickness * member.width ** 3) / 12;
    // shear area 5/6 of the rectangle (Timoshenko; common practice, no source)
    const shear = member.shearModulus === undefined ? 0 : (12 * bending) / (((member.shearModulus * area * 5) / 6) * L * L);
    const stiffness = {
      length: L,
      angle: Math.atan2(to.y - from.y, to.x - from.x),
      axial: member.youngsModulus * area,
      bending,
      shear,
    };
    let start = member.from;
    for (let index = 0; index < member.nElements; index++) {
      let end = member.to;
      if (index < member.nElements - 1) {
        const part = (index + 1) / member.nElements;
        end = this.places.push(from.x + part * (to.x - from.x), from.y + part * (to.y - from.y)) / 2 - 1;
      }
      this.elements.push({ member: m, index, stiffness, start, end });
      start = end;
    }
  }

  /** State of balance under a loading. Throws SolveError when none is found. */
  solve(loading: FrameLoading, options: { readonly start?: FrameState; readonly allowUnstable?: boolean } = {}): FrameState {
    const layout = this.layoutFor(loading.held);
    if (options.start !== undefined && options.start.unknowns.length === layout.nUnknowns) {
      const near = this.newton(layout, loading, { fraction: 1, start: options.start.unknowns });
      if (
        near !== undefined &&
        near.nNegative === 0 &&
        largestChange(near.unknowns, options.start.unknowns, layout.isLength) < this.thinnest
      )
        return this.report(layout, loading, near);
    }
    const zero = new Float64Array(layout.nUnknowns);
    const linear = this.linearAnswer(layout, loading);
    const direct = this.newton(layout, loading, { fraction: 1, start: zero });
    if (
      direct !== undefined &&
      (direct.nNegative === 0 || options.allowUnstable === true) &&
      isLike(direct.unknowns, linear, layout.isJoint)
    )
      return this.report(layout, loading, direct);
    return this.follow(layout, loading, { linear, allowUnstable: options.allowUnstable === true });
  }

  /** Stiffness along one motion at a state, other joints free: force per displacement of a small push there. */
  stiffnessAt(state: FrameState, loading: FrameLoading, at: JointMotion): number {
    const layout = this.layoutFor(loading.held);
    this.assemble(layout, loading, { unknowns: state.unknowns, fraction: 1 });
    if (factorSkylineInPlace(layout.matrix) < 0) return Number.NaN;
    const x = new Float64Array(layout.nUnknowns);
    const unknown = layout.unknownOf[3 * at.joint + at.motion]!;
    if (unknown < 0) return Number.POSITIVE_INFINITY;
    x[unknown] = 1;
    solveSkylineInto(x, layout.matrix);
    return 1 / x[unknown]!;
  }

  private layoutFor(held: FrameLoading["held"]): Layout {
    const key = held.map(({ joint, motion }) => `${joint}.${motion}`).join(" ");
    let layout = this.layouts.get(key);
    if (layout === undefined) {
      layout = createLayout({
        elements: this.elements,
        nNodes: this.nNodes,
        isFixed: this.frame.joints.map((joint) => joint.fixed),
        held,
      });
      this.layouts.set(key, layout);
    }
    return layout;
  }

  /** Raises strain and load in steps that move no joint by more than about a quarter of the thinnest member. */
  private follow(layout: Layout, loading: FrameLoading, options: { linear: Float64Array; allowUnstable: boolean }): FrameState {
    const reach = largestChange(options.linear, new Float64Array(layout.nUnknowns), layout.isLength);
    // a frame about to buckle hardly moves to first order, so the first step is never the whole
    let step = Math.min(0.1, this.thinnest / 4 / Math.max(reach, 1e-30));
    let found: Found = { unknowns: new Float64Array(layout.nUnknowns), nNegative: 0, iterations: 0 };
    let reached = 0;
    let total = 0;
    while (reached < 1) {
      const fraction = Math.min(1, reached + step);
      const next = this.newton(layout, loading, { fraction, start: found.unknowns });
      if (
        next === undefined ||
        (next.nNegative > 0 && !options.allowUnstable) ||
        largestChange(next.unknowns, found.unknowns, layout.isLength) > this.thinnest / 2 ||
        !isAlong(next.unknowns, found.unknowns, layout.isLength)
      ) {
        step /= 2;
        if (step < smallestStep) {
          throw new SolveError("The frame has no stable state of balance near its drawn shape", {
            method: "path following",
            iterations: total,
            residual: 1 - reached,
            target: 0,
            hint: `It was followed up to ${(100 * reached).toFixed(1)} % of the load: beyond that it buckles or snaps.`,
          });
        }
        continue;
      }
      total += next.iterations;
      found = next;
      reached = fraction;
      step *= 1.5;
    }
    return this.report(layout, loading, { ...found, iterations: total });
  }

  private linearAnswer(layout: Layout, loading: FrameLoading): Float64Array {
    const zero = new Float64Array(layout.nUnknowns);
    this.assemble(layout, loading, { unknowns: zero, fraction: 0 });
    factorSkylineInPlace(layout.matrix);
    const kept = Float64Array.from(layout.matrix.values);
    this.assemble(layout, loading, { unknowns: zero, fraction: 1e-6 });
    layout.matrix.values.set(kept);
    const x = Float64Array.from(layout.residual, (value) => -value * 1e6);
    solveSkylineInto(x, layout.matrix);
    return x;
  }

  private newton(layout: Layout, loading: FrameLoading, options: { fraction: number; start: Float64Array }): Found | undefined {
    const unknowns = Float64Array.from(options.start);
    const step = new Float64Array(layout.nUnknowns);
    for (let iteration = 1; iteration <= longestNewton; iteration++) {
      this.assemble(layout, loading, { unknowns, fraction: options.fraction });
      const nNegative = factorSkylineInPlace(layout.matrix);
      if (nNegative < 0) return undefined;
      for (let i = 0; i < step.length; i++) step[i] = -layout.residual[i]!;
      solveSkylineInto(step, layout.matrix);
      let largest = 0;
      let size = 0;
      for (let i = 0; i < step.length; i++) {
        unknowns[i] = unknowns[i]! + step[i]!;
        if (layout.isLength[i] === 1) {
          largest = Math.max(largest, Math.abs(step[i]!));
          size = Math.max(size, Math.abs(unknowns[i]!));
        }
      }
      if (!Number.isFinite(largest)) return undefined;
      // quadratic convergence: the error left is far below the last step
      if (largest < 1e-7 * size + 1e-16) return { unknowns, nNegative, iterations: iteration };
    }
    return undefined;
  }

  /** Residual and tangent at the given unknowns; held motions and strains scaled by `fraction`. */
  private assemble(layout: Layout, loading: FrameLoading, at: { unknowns: Float64Array; fraction: number }): void {
    const { unknownOf, matrix, residual, heldValue, reactionOf } = layout;
    const { buffers } = this;
    matrix.values.fill(0);
    residual.fill(0);
    layout.reactions.fill(0);
    loading.held.forEach(({ joint, motion, value }) => {
      heldValue[3 * joint + motion] = value * at.fraction;
    });
    const motionAt = (dof: number): number => {
      const unknown = unknownOf[dof]!;
      return unknown >= 0 ? at.unknowns[unknown]! : heldValue[dof]!;
    };
    for (const element of this.elements) {
      const i = element.start;
      const j = element.end;
      this.evaluateElement(element, motionAt, at.fraction * loading.strains[element.member]![element.index]!);
      for (let a = 0; a < 6; a++) {
        const dof = a < 3 ? 3 * i + a : 3 * j + a - 3;
        const row = unknownOf[dof]!;
        if (row < 0) {
          const reaction = reactionOf[dof]!;
          if (reaction >= 0) layout.reactions[reaction] = layout.reactions[reaction]! + buffers.force[a]!;
          continue;
        }
        residual[row] = residual[row]! + buffers.force[a]!;
        for (let b = 0; b <= a; b++) {
          const column = unknownOf[b < 3 ? 3 * i + b : 3 * j + b - 3]!;
          if (column >= 0) addToSkyline(matrix, { row, column }, buffers.tangent[6 * a + b]!);
        }
      }
    }
    this.frame.joints.forEach((joint, index) => {
      [joint.springX, joint.springY].forEach((spring, motion) => {
        if (spring === undefined || spring === 0) return;
        const dof = 3 * index + motion;
        const row = unknownOf[dof]!;
        if (row >= 0) {
          residual[row] = residual[row]! + spring * at.unknowns[row]!;
          addToSkyline(matrix, { row, column: row }, spring);
        } else if (reactionOf[dof]! >= 0)
          layout.reactions[reactionOf[dof]!] = layout.reactions[reactionOf[dof]!]! + spring * heldValue[dof]!;
      });
    });
    for (const { joint, motion, value } of loading.loads) {
      const row = unknownOf[3 * joint + motion]!;
      if (row >= 0) residual[row] = residual[row]! - at.fraction * value;
    }
  }

  private report(layout: Layout, loading: FrameLoading, found: Found): FrameState {
    this.assemble(layout, loading, { unknowns: found.unknowns, fraction: 1 });
    const joints = Float64Array.from({ length: 3 * this.frame.joints.length }, (_, dof) => {
      const unknown = layout.unknownOf[dof]!;
      return unknown >= 0 ? found.unknowns[unknown]! : layout.heldValue[dof]!;
    });
    return {
      joints,
      members: this.memberForces(layout, loading, found.unknowns),
      reactions: Float64Array.from(layout.reactions),
      nNegative: found.nNegative,
      iterations: found.iterations,
      unknowns: found.unknowns,
    };
  }

  /** Forces and tangent of one element, into the buffers, with its nodes moved by `motionAt` and the given free strain. */
  private evaluateElement(element: ElementPlace, motionAt: (dof: number) => number, eps: number): void {
    const { places } = this;
    const { start: i, end: j } = element;
    evaluateElementInto(this.buffers, element.stiffness, {
      x0: places[2 * i]! + motionAt(3 * i),
      y0: places[2 * i + 1]! + motionAt(3 * i + 1),
      a0: motionAt(3 * i + 2),
      x1: places[2 * j]! + motionAt(3 * j),
      y1: places[2 * j + 1]! + motionAt(3 * j + 1),
      a1: motionAt(3 * j + 2),
      eps,
    });
  }

  private memberForces(layout: Layout, loading: FrameLoading, unknowns: Float64Array): MemberForces[] {
    const { buffers } = this;
    const forces = this.frame.members.map(() => ({
      axialForce: 0,
      peakStress: 0,
      peakAt: 0,
      endStresses: [0, 0] as [number, number],
      endMoments: [0, 0] as [number, number],
    }));
    const motionAt = (dof: number): number => {
      const unknown = layout.unknownOf[dof]!;
      return unknown >= 0 ? unknowns[unknown]! : layout.heldValue[dof]!;
    };
    for (const element of this.elements) {
      const member = this.frame.members[element.member]!;
      this.evaluateElement(element, motionAt, loading.strains[element.member]![element.index]!);
      const area = member.width * member.thickness;
      const section = (member.thickness * member.width ** 2) / 6;
      const { axial, startMoment, endMoment } = buffers.inner;
      const result = forces[element.member]!;
      result.axialForce += axial / member.nElements;
      [startMoment, endMoment].forEach((moment, end) => {
        const stress = Math.abs(axial) / area + Math.abs(moment) / section;
        const at = (element.index + end) / member.nElements;
        if (stress > result.peakStress) {
          result.peakStress = stress;
          result.peakAt = at;
        }
        if (at === 0 || at === 1) {
          result.endStresses[at] = stress;
          result.endMoments[at] = moment;
        }
      });
    }
    return forces;
  }
}

interface Found {
  readonly unknowns: Float64Array;
  readonly nNegative: number;
  readonly iterations: number;
}
