/**
 * Closed stops as exact constraints on the junction motions, with the stop's force as multiplier.
 *
 * Augmented Lagrangian: K' = K + rho G^T G keeps the matrix regular, S = G K'^-1 G^T is the small dense system of the stop forces.
 * With it the solution is exact for every rho; inertia on the constrained motions is n(K') + n(-S) - nClosed (Haynsworth's inertia
 * additivity, from memory). Main test: system.test.ts, stops.test.ts.
 */
import { factorLdltInto, solveLdltInto } from "#numerics";
import type { ContactStop } from "./network.ts";
import type { RowNumbering } from "./row-numbering.ts";
import type { FrameTopology } from "./topology.ts";

/** Pivot of the stop forces against its size before, below which two stops say the same. */
const sameStop = 1e-10;

export class StopConstraints {
  /** [nStops] 1 where a stop is closed. */
  readonly isClosed: Uint8Array;
  /** [nStops] 1 where a stop touches but others already say the same: its force is set to 0. */
  readonly isRedundant: Uint8Array;
  private readonly topology: FrameTopology;
  /** Flat motions of the frame, see topology.ts. */
  private readonly motions: Float64Array;
  /** [nStops × 3] gradient of the way of a stop's point, and its turned offset [nStops × 2]. */
  private readonly gradients: Float64Array;
  private readonly arms: Float64Array;
  private readonly penalties: Float64Array;
  /** Per stop: flat motions by a unit force along it. */
  private readonly influences: readonly Float64Array[];
  private readonly matrix: Float64Array;
  private readonly side: Float64Array;
  private closed: number[] = [];
  private stops: readonly ContactStop[] = [];

  constructor(topology: FrameTopology, motions: Float64Array) {
    const { nStops, nMotions } = topology;
    this.topology = topology;
    this.motions = motions;
    this.isClosed = new Uint8Array(nStops);
    this.isRedundant = new Uint8Array(nStops);
    this.gradients = new Float64Array(3 * nStops);
    this.arms = new Float64Array(2 * nStops);
    this.penalties = new Float64Array(nStops);
    this.influences = Array.from({ length: nStops }, () => new Float64Array(nMotions));
    this.matrix = new Float64Array(nStops * nStops);
    this.side = new Float64Array(nStops);
  }

  /** Takes the stops' sizes. */
  use(stops: readonly ContactStop[]): void {
    this.stops = stops;
  }

  /** Places all stops at the present motions; `turn` turns a point of a body. */
  evaluate(turn: (junction: number, ox: number, oy: number) => readonly [number, number]): void {
    const { topology, gradients, arms, motions } = this;
    for (let s = 0; s < topology.nStops; s++) {
      const { junction, offset, direction } = this.stops[s]!;
      const [ox, oy] = turn(junction, offset[0], offset[1]);
      arms[2 * s] = ox;
      arms[2 * s + 1] = oy;
      gradients[3 * s] = direction[0];
      gradients[3 * s + 1] = direction[1];
      gradients[3 * s + 2] = direction[1] * ox - direction[0] * oy;
      if (this.isClosed[s] === 0) motions[topology.stopsAt + s] = 0;
    }
  }

  /** Way left before a stop closes, [m]; negative where the body stands inside. */
  gapOf(s: number): number {
    const { junction, offset, direction, gap } = this.stops[s]!;
    const m = this.motions;
    const ex = m[3 * junction]! + this.arms[2 * s]! - offset[0];
    const ey = m[3 * junction + 1]! + this.arms[2 * s + 1]! - offset[1];
    return gap - direction[0] * ex - direction[1] * ey;
  }

  /** Puts the forces of the closed stops on their bodies, and the way that is left to each. */
  addForces(x: Float64Array): void {
    const { topology, gradients } = this;
    for (let s = 0; s < topology.nStops; s++) {
      if (this.isClosed[s] === 0) continue;
      const j = 3 * topology.stopJunction[s]!;
      const push = this.motions[topology.stopsAt + s]!;
      for (let k = 0; k < 3; k++) x[j + k] = x[j + k]! - push * gradients[3 * s + k]!;
      x[topology.stopsAt + s] = this.gapOf(s);
    }
  }

  /** What growing bodies change of that; `growthOf` gives the relative growth of a junction's body. */
  addSlope(x: Float64Array, growthOf: (junction: number) => number): void {
    const { topology, gradients, arms } = this;
    for (let s = 0; s < topology.nStops; s++) {
      if (this.isClosed[s] === 0) continue;
      const growth = growthOf(topology.stopJunction[s]!);
      const ox = growth * arms[2 * s]!;
      const oy = growth * arms[2 * s + 1]!;
      const dx = gradients[3 * s]!;
      const dy = gradients[3 * s + 1]!;
      const t = 3 * topology.stopJunction[s]! + 2;
      x[t] = x[t]! - this.motions[topology.stopsAt + s]! * (dy * ox - dx * oy);
      x[topology.stopsAt + s] = -(dx * ox + dy * oy);
    }
  }

  /** Takes the way off that imposed motions go along each stop. */
  addImposed(x: Float64Array, imposed: Float64Array): void {
    const { stopsAt, nStops } = this.topology;
    for (let s = 0; s < nStops; s++) x[stopsAt + s] = x[stopsAt + s]! - this.wayOf(s, imposed);
  }

  /** Adds rho G^T G and the stiffness by the turning of the stop's point to the matrix of the junctions. */
  addStiffness(rows: RowNumbering): void {
    const { topology, gradients, arms } = this;
    const { junctionPlaces } = rows;
    const { values } = rows.matrix;
    for (let s = 0; s < topology.nStops; s++) {
      if (this.isClosed[s] === 0) continue;
      const first = 6 * topology.stopJunction[s]!;
      const push = this.motions[topology.stopsAt + s]!;
      const turn = junctionPlaces[first + 5]!;
      const lever = gradients[3 * s]! * arms[2 * s]! + gradients[3 * s + 1]! * arms[2 * s + 1]!;
      if (turn >= 0) values[turn] = values[turn]! - push * lever;
      const xx = junctionPlaces[first]!;
      const yy = junctionPlaces[first + 2]!;
      const penalty = Math.max(xx < 0 ? 0 : Math.abs(values[xx]!), yy < 0 ? 0 : Math.abs(values[yy]!));
      this.penalties[s] = penalty;
      for (let i = 0, p = first; i < 3; i++) {
        for (let k = 0; k <= i; k++, p++) {
          const place = junctionPlaces[p]!;
          if (place >= 0) values[place] = values[place]! + penalty * gradients[3 * s + i]! * gradients[3 * s + k]!;
        }
      }
    }
  }

  /**
   * Influence of every closed stop and the system of their forces, with the factored K' in `solveFree`. Returns what the stops add to
   * the negative eigenvalues, or undefined after it has opened a stop that says what others say: then all must be factored anew.
   */
  factor(rows: RowNumbering, solveFree: (x: Float64Array) => void): number | undefined {
    const { topology, gradients, influences, matrix } = this;
    const closed: number[] = [];
    for (let s = 0; s < topology.nStops; s++) if (this.isClosed[s] === 1) closed.push(s);
    this.closed = closed;
    const n = closed.length;
    if (n === 0) return 0;
    for (let a = 0; a < n; a++) {
      const s = closed[a]!;
      const y = influences[s]!;
      y.fill(0);
      const j = 3 * topology.stopJunction[s]!;
      for (let k = 0; k < 3; k++) if (rows.rowOfMotion[j + k]! >= 0) y[j + k] = gradients[3 * s + k]!;
      solveFree(y);
      for (let c = 0; c < n; c++) matrix[c * n + a] = this.wayOf(closed[c]!, y);
    }
    const before = closed.map((_, a) => Math.abs(matrix[a * n + a]!));
    const { nNegative } = factorLdltInto(matrix, { n });
    const same = before.findIndex((size, a) => !(Math.abs(matrix[a * n + a]!) > sameStop * size));
    if (same < 0) return -nNegative;
    this.isClosed[closed[same]!] = 0;
    this.isRedundant[closed[same]!] = 1;
    return undefined;
  }

  /** Way of a stop's point along its direction under motions x. */
  private wayOf(s: number, x: Float64Array): number {
    const j = 3 * this.topology.stopJunction[s]!;
    const g = 3 * s;
    return this.gradients[g]! * x[j]! + this.gradients[g + 1]! * x[j + 1]! + this.gradients[g + 2]! * x[j + 2]!;
  }

  /** Before K' is solved: rho G^T times the way to close goes to the forces. */
  pushOn(x: Float64Array, rows: RowNumbering): void {
    const { topology, gradients } = this;
    for (const s of this.closed) {
      const j = 3 * topology.stopJunction[s]!;
      const push = this.penalties[s]! * x[topology.stopsAt + s]!;
      for (let k = 0; k < 3; k++) if (rows.rowOfMotion[j + k]! >= 0) x[j + k] = x[j + k]! + push * gradients[3 * s + k]!;
    }
  }

  /** After: finds the change of the stop forces and takes what they do off the motions. */
  holdBack(x: Float64Array): void {
    const { closed, side, influences } = this;
    const { stopsAt, nStops } = this.topology;
    const n = closed.length;
    for (let a = 0; a < n; a++) side[a] = this.wayOf(closed[a]!, x) - x[stopsAt + closed[a]!]!;
    if (n > 0) solveLdltInto(side, this.matrix, { n });
    for (let s = 0; s < nStops; s++) x[stopsAt + s] = 0;
    for (let a = 0; a < n; a++) {
      const y = influences[closed[a]!]!;
      const push = side[a]!;
      for (let i = 0; i < stopsAt; i++) x[i] = x[i]! - push * y[i]!;
      x[stopsAt + closed[a]!] = push;
    }
  }
}
