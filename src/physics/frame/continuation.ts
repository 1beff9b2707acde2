/**
 * Walks along the path of balance of a frame by arc length, through limit points and snap-back.
 *
 * Unknowns are all motions and the load factor. Predictor along the tangent, corrector normal to it (Riks' normal plane; Crisfield 1991,
 * chapter 9, key crisfield1991, from memory), both with the factors of the frame's own tangent, which is singular at isolated points only.
 * Steps are bounded by the turn of the tangent, so that the walk does not jump to another branch. Main test: trace.test.ts.
 */
import { addInto, isLast, largestTurn, sizeOf } from "./follow.ts";
import { updateStops } from "./stops.ts";
import type { FrameSystem } from "./system.ts";

const maxCorrections = 10;

/** A point on the path, with the direction in which the walk goes on. */
export interface WalkPoint {
  readonly loadFactor: number;
  readonly motions: Float64Array;
  readonly isClosed: Uint8Array;
  readonly nNegative: number;
  /** Tangent of size 1 in units of the largest move and the factor unit: motions, load factor. */
  readonly tangent: Float64Array;
  readonly factorTangent: number;
}

export class Continuation {
  private readonly system: FrameSystem;
  private readonly largestMove: number;
  private readonly factorUnit: number;
  private readonly corrector: Float64Array;
  private readonly predictor: Float64Array;

  /** `factorUnit`: change of the load factor that counts as much as the largest move. */
  constructor(system: FrameSystem, options: { readonly largestMove: number; readonly factorUnit: number }) {
    this.system = system;
    this.factorUnit = options.factorUnit;
    this.largestMove = options.largestMove;
    this.corrector = new Float64Array(system.motions.length);
    this.predictor = new Float64Array(system.motions.length);
  }

  /** The unstrained frame, going towards growing load. */
  start(): WalkPoint | undefined {
    const { system, predictor } = this;
    system.evaluate(0);
    const nNegative = system.factor();
    if (nNegative < 0) return undefined;
    system.slopeInto(predictor);
    system.solveInto(predictor);
    return this.point({ loadFactor: 0, nNegative, along: undefined, factorAlong: 1 });
  }

  size(x: Float64Array): number {
    return sizeOf(x, { stopsAt: this.system.topology.stopsAt, largestMove: this.largestMove });
  }

  /** Product of two flat arrays of motions in units of the largest move and turn. */
  product(a: Float64Array, b: Float64Array): number {
    let moves = 0;
    let turns = 0;
    for (let i = 0; i < this.system.topology.stopsAt; i += 3) {
      moves += a[i]! * b[i]! + a[i + 1]! * b[i + 1]!;
      turns += a[i + 2]! * b[i + 2]!;
    }
    return moves / this.largestMove ** 2 + turns / largestTurn ** 2;
  }

  /** Point at the walked length `reach` from a point, on the plane normal to its tangent; undefined where Newton does not get there. */
  step(from: WalkPoint, reach: number): { point: WalkPoint; corrections: number } | undefined {
    const { system } = this;
    system.motions.set(from.motions);
    system.isClosed.set(from.isClosed);
    system.isRedundant.fill(0);
    addInto(system.motions, from.tangent, reach);
    return this.correct({
      loadFactor: from.loadFactor + reach * from.factorTangent,
      along: from.tangent,
      factorAlong: from.factorTangent,
    });
  }

  /** Leaves a point along a mode, the load factor free: onto a branch. */
  branch(from: WalkPoint, mode: Float64Array): WalkPoint | undefined {
    const { system } = this;
    for (let reach = 0.5; reach > 5e-3; reach /= 2) {
      system.motions.set(from.motions);
      system.isClosed.set(from.isClosed);
      system.isRedundant.fill(0);
      addInto(system.motions, mode, reach);
      const found = this.correct({ loadFactor: from.loadFactor, along: mode, factorAlong: 0 });
      if (found !== undefined) return found.point;
    }
    return undefined;
  }

  private correct(from: {
    loadFactor: number;
    along: Float64Array;
    factorAlong: number;
  }): { point: WalkPoint; corrections: number } | undefined {
    const { system, corrector, predictor } = this;
    const { along, factorAlong } = from;
    let { loadFactor } = from;
    let before = Number.POSITIVE_INFINITY;
    let changes = 0;
    for (let corrections = 1; corrections <= maxCorrections; corrections++) {
      system.evaluate(loadFactor);
      const nNegative = system.factor();
      if (nNegative < 0) return undefined;
      system.residualInto(corrector);
      system.imposeNothing();
      system.solveInto(corrector);
      system.slopeInto(predictor);
      system.solveInto(predictor);
      const rise = this.product(along, predictor) + factorAlong / this.factorUnit ** 2;
      const change = -this.product(along, corrector) / rise;
      addInto(corrector, predictor, change);
      const size = Math.max(this.size(corrector), Math.abs(change) / this.factorUnit);
      if (!(size <= Math.min(4, 2 * before))) return undefined;
      addInto(system.motions, corrector, 1);
      loadFactor += change;
      if (isLast(size, { before, total: Math.max(1, this.size(system.motions)) })) {
        system.evaluate(loadFactor);
        if (updateStops(system)) {
          if (++changes > 2 * system.topology.nStops + 2) return undefined;
          before = Number.POSITIVE_INFINITY;
          continue;
        }
        return { point: this.point({ loadFactor, nNegative, along, factorAlong }), corrections };
      }
      before = size;
    }
    return undefined;
  }

  /** The present state as a point; the predictor holds the tangent, which is turned to go on along `along`. */
  private point(at: { loadFactor: number; nNegative: number; along: Float64Array | undefined; factorAlong: number }): WalkPoint {
    const { system, predictor } = this;
    const forward = (at.along === undefined ? 0 : this.product(at.along, predictor)) + at.factorAlong / this.factorUnit ** 2;
    const scale = (forward < 0 ? -1 : 1) / Math.max(this.size(predictor), 1 / this.factorUnit);
    return {
      loadFactor: at.loadFactor,
      motions: system.motions.slice(),
      isClosed: system.isClosed.slice(),
      nNegative: at.nNegative,
      tangent: predictor.map((value) => scale * value),
      factorTangent: scale,
    };
  }

  /** Cosine of the angle between the tangents of two points. */
  cosine(a: WalkPoint, b: WalkPoint): number {
    const dot = (p: WalkPoint, q: WalkPoint): number =>
      this.product(p.tangent, q.tangent) + (p.factorTangent * q.factorTangent) / this.factorUnit ** 2;
    return dot(a, b) / Math.sqrt(dot(a, a) * dot(b, b));
  }

  /** Walked length from a point to one that `step` found from it. */
  reachOf(from: WalkPoint, to: WalkPoint): number {
    const way = to.motions.map((value, i) => value - from.motions[i]!);
    const perFactor = from.factorTangent / this.factorUnit ** 2;
    const along = this.product(way, from.tangent) + (to.loadFactor - from.loadFactor) * perFactor;
    return along / (this.product(from.tangent, from.tangent) + from.factorTangent * perFactor);
  }

  /** True where point b is in front of point a, no farther than `reach`. */
  isAhead(a: WalkPoint, b: WalkPoint, options: { readonly reach: number }): boolean {
    const way = b.motions.map((value, i) => value - a.motions[i]!);
    const factor = b.loadFactor - a.loadFactor;
    if (Math.max(this.size(way), Math.abs(factor) / this.factorUnit) > options.reach) return false;
    return this.product(way, a.tangent) + (factor * a.factorTangent) / this.factorUnit ** 2 > 0;
  }

  /**
   * The softest mode about the present state, whose tangent is factored, and its eigenvalue, by inverse iteration; `mode` gives
   * where to begin and takes the result, of size 1.
   */
  softestInto(mode: Float64Array): number {
    const { system, corrector } = this;
    const { stopsAt } = system.topology;
    let eigenvalue = 0;
    system.imposeNothing();
    for (let pass = 0; pass < 8; pass++) {
      corrector.fill(0);
      for (let i = 0; i < stopsAt; i++) corrector[i] = mode[i]! / (i % 3 === 2 ? largestTurn ** 2 : this.largestMove ** 2);
      system.solveInto(corrector);
      const flexibility = this.product(mode, corrector) / this.product(mode, mode);
      const scale = 1 / this.size(corrector);
      for (let i = 0; i < mode.length; i++) mode[i] = i < stopsAt ? scale * corrector[i]! : 0;
      const last = eigenvalue;
      eigenvalue = 1 / flexibility;
      if (pass > 1 && Math.abs(eigenvalue - last) <= 1e-6 * Math.abs(eigenvalue)) break;
    }
    return eigenvalue;
  }
}
