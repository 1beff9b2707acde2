/**
 * The chance that all limits hold together, to first order: every metric moves linearly with the causes of doubt, which the metrics
 * share. The same points stand for chance in every design, so that two designs are compared under the same luck and the chance is
 * smooth over a plane. Points: Sobol, shifted once; a Latin hypercube where there are more causes than Sobol dimensions.
 * Main test: joint-chance.test.ts.
 */
import { createRandomSource, latinHypercube } from "#base";
import { sobolDimensions, sobolPoints } from "#numerics";
import { fencesOf, type Need } from "../brief/need.ts";
import type { Cause } from "../evaluate/scope.ts";
import { deviationOf, meets } from "../ledger/chance.ts";

const seed = 20263;

/** What a cause is called, and how it is spread. */
export type CauseKind = Pick<Cause, "name" | "distribution">;

export class JointChance {
  readonly names: readonly string[];
  /** [n × nCauses] in standard deviations. */
  private readonly deviations: Float64Array;

  constructor(
    causes: readonly CauseKind[],
    /** Number of points; a chance comes in steps of one over it. */
    readonly n: number,
  ) {
    this.names = causes.map(({ name }) => name);
    const random = createRandomSource(seed);
    const size = { count: n, dimensions: Math.max(1, causes.length) };
    const points = causes.length <= sobolDimensions ? sobolPoints(size, random) : latinHypercube(random, size);
    this.deviations = causes.length === 0 ? points : points.map((u, k) => deviationOf(causes[k % causes.length]!, u));
  }

  /** Shifts of a metric by cause, in the order of the causes. */
  shiftsOf(shifts: ReadonlyMap<string, number>): Float64Array {
    return Float64Array.from(this.names, (name) => shifts.get(name) ?? 0);
  }

  /** `values` [m], `shifts` [m × nCauses] per standard deviation, row-major. */
  of(values: ArrayLike<number>, shifts: Float64Array, needs: readonly Need[]): number {
    const nCauses = this.names.length;
    const doubtful: number[] = [];
    for (let i = 0; i < needs.length; i++) {
      const value = values[i]!;
      const need = needs[i]!;
      if (!Number.isFinite(value)) return 0;
      let reach = 0;
      for (let c = 0; c < nCauses; c++) reach += Math.abs(shifts[i * nCauses + c]!);
      // beyond five standard deviations of every cause at once nothing can change
      const [least, most] = [value - 5 * reach, value + 5 * reach];
      if (fencesOf(need).some(({ at }) => at >= least && at <= most)) doubtful.push(i);
      else if (!meets(value, need)) return 0;
    }
    if (doubtful.length === 0) return 1;
    let met = 0;
    for (let sample = 0; sample < this.n; sample++) {
      const start = sample * nCauses;
      let all = true;
      for (let k = 0; all && k < doubtful.length; k++) {
        const i = doubtful[k]!;
        let value = values[i]!;
        for (let c = 0; c < nCauses; c++) value += shifts[i * nCauses + c]! * this.deviations[start + c]!;
        all = meets(value, needs[i]!);
      }
      if (all) met++;
    }
    return met / this.n;
  }
}
