/**
 * Limits that share a stand-in over the plane: which designs it wants solved next, what they came to, and where its edges run. The states
 * at rest are one group, the runs in time, which take much longer, another.
 */
import { fencesOf } from "../brief/need.ts";
import type { DesignAnswer, DesignQuestion } from "./design-questions.ts";
import { type Axis, designAt, type SizeLimit } from "./design-space.ts";
import { edgesOnGrid, type RegionEdge } from "./edges.ts";
import { HermitePlane } from "./hermite-plane.ts";

/** A node of the grid that is to be solved. */
export interface WantedNode {
  readonly i: number;
  readonly j: number;
  readonly question: DesignQuestion;
}

export class LimitGroup {
  readonly plane: HermitePlane;
  /** Numbers of the limits of the group among all. */
  private readonly numbers: Uint16Array;

  constructor(
    readonly limits: readonly SizeLimit[],
    all: readonly SizeLimit[],
    private readonly axes: readonly Axis[],
    /** Error of the stand-in, as a part of the limit, below which the grid is not halved further. */
    private readonly wantedError: number,
  ) {
    this.plane = new HermitePlane(limits.length, 1);
    this.numbers = Uint16Array.from(limits, (limit) => all.indexOf(limit));
  }

  /** True once every corner of the plane has been solved. */
  get isThere(): boolean {
    return this.limits.length > 0 && this.plane.isSolved(0, 0) && this.plane.isSolved(this.plane.cells, this.plane.cells);
  }

  /** Questions about the nodes, row by row and back, so that the next one lies beside the last. */
  private nodesAt(places: Iterable<readonly [number, number]>): readonly WantedNode[] {
    const { cells } = this.plane;
    const seen = new Map<number, readonly [number, number]>();
    for (const [i, j] of places)
      if (!this.plane.isSolved(i, j)) seen.set(j * (cells + 1) + (j % 2 === 0 ? i : cells - i), [i, j]);
    return [...seen]
      .sort(([a], [b]) => a - b)
      .map(([, [i, j]]) => ({
        i,
        j,
        question: { kind: "slopes", x: designAt(this.axes, i / cells, j / cells), limits: this.numbers },
      }));
  }

  /** The four corners of the plane. */
  corners(): readonly WantedNode[] {
    if (this.limits.length === 0) return [];
    return this.nodesAt([
      [0, 0],
      [1, 0],
      [0, 1],
      [1, 1],
    ]);
  }

  /** Halves the grid and names the nodes of the cells that are worth it, all at first; the choice is made on the coarser grid. */
  halve(): readonly WantedNode[] {
    const { plane } = this;
    if (this.limits.length === 0) return [];
    const n = plane.cells;
    const places: (readonly [number, number])[] = [];
    for (let j = 0; j < n; j++)
      for (let i = 0; i < n; i++)
        // one cell cannot know its own error
        if (n === 1 || this.wantsHalving(i, j))
          for (let k = 0; k < 9; k++) places.push([2 * i + (k % 3), 2 * j + Math.floor(k / 3)]);
    plane.halve();
    return this.nodesAt(places);
  }

  take({ i, j }: WantedNode, { values, slopes }: DesignAnswer): void {
    this.plane.setNode(i, j, {
      values,
      slopes: slopes.map((value, k) => value * (this.axes[k % 2]!.high - this.axes[k % 2]!.low)),
    });
  }

  /** Least and greatest value in a cell, and how many of 16 places have none. */
  private reachIn(i: number, j: number, f: number) {
    const n = this.plane.cells;
    let [least, most, missing] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
    for (let k = 0; k < 16; k++) {
      const value = this.plane.valueAt((i + (k % 4) / 3) / n - 1e-12, (j + Math.floor(k / 4) / 3) / n - 1e-12, f);
      if (Number.isFinite(value)) {
        least = Math.min(least, value);
        most = Math.max(most, value);
      } else missing++;
    }
    return { least, most, missing };
  }

  /** Whether the edge of a limit may run through a cell. */
  private mayHoldEdge(i: number, j: number, f: number): boolean {
    const { least, most } = this.reachIn(i, j, f);
    const room = Math.min(this.plane.errorIn(i, j, f), most - least);
    return fencesOf(this.limits[f]!.need).some(({ at }) => at >= least - room && at <= most + room);
  }

  /** Whether an edge of the group may run through a cell in which the stand-in is not yet sure. */
  private wantsHalving(i: number, j: number): boolean {
    return this.limits.some(({ need: { low, high } }, f) => {
      const { least, most, missing } = this.reachIn(i, j, f);
      if (missing > 0) return missing < 16;
      if (!this.mayHoldEdge(i, j, f)) return false;
      const size = Math.max(Math.abs(high ?? low ?? 0), most - least);
      return this.plane.errorIn(i, j, f) > this.wantedError * size;
    });
  }

  /** Largest error of the stand-in in cells through which an edge of the limit may run, SI; NaN while it is not known, or where none runs. */
  errorAlongEdges(f: number): number {
    const { plane } = this;
    let worst = Number.NaN;
    for (let j = 0; j < plane.cells; j++) {
      for (let i = 0; i < plane.cells; i++) {
        const error = plane.errorIn(i, j, f);
        if (!Number.isFinite(error)) return Number.NaN;
        if (this.mayHoldEdge(i, j, f) && !(error <= worst)) worst = error;
      }
    }
    return worst;
  }

  /** Edges of a limit as the stand-in has them. */
  edgesOf(f: number, points: number): readonly RegionEdge[] {
    return edgesOnGrid(this.limits[f]!.need, { nx: points, ny: points, values: this.plane.grid(points, f) }, this.axes);
  }
}
