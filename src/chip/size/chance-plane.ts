/**
 * Chances over the plane: the values come from the stand-ins, what the causes of doubt move them by from nine designs, quadratic between
 * them. The shifts of runs in time are known in one design alone and are kept over the plane. Main test: region-steps.test.ts.
 */
import type { Need } from "../brief/need.ts";
import { nChanceSamples } from "./all-hold.ts";
import type { DesignAnswer } from "./design-questions.ts";
import { type CauseKind, JointChance } from "./joint-chance.ts";

/** The designs in which the doubt is worked out, in the unit square, row by row. */
export const nine = Array.from({ length: 9 }, (_, k) => [(k % 3) / 2, Math.floor(k / 3) / 2] as const);

const everyOne = [...nine.keys()];

/** Points that stand for chance at each place of the plane; a single design deserves more. */
const nSamples = 512;

/** Shifts of each limit in the order of `names`, row by row. */
function shiftsInOrder({ causes, shifts }: DesignAnswer, names: readonly string[]): Float64Array {
  const n = causes.length === 0 ? 0 : shifts.length / causes.length;
  const rows = new Float64Array(n * names.length);
  for (const [c, { name }] of causes.entries()) {
    const column = names.indexOf(name);
    for (let i = 0; i < n; i++) rows[i * names.length + column] = shifts[i * causes.length + c]!;
  }
  return rows;
}

/** Chance that all limits hold in a design whose doubt has been worked out. */
export function chanceIn(answer: DesignAnswer, needs: readonly Need[]): number {
  return new JointChance(answer.causes, nChanceSamples).of(answer.values, answer.shifts, needs);
}

/** Causes of several answers, each once. */
function causesOf(answers: readonly DesignAnswer[]): readonly CauseKind[] {
  const causes = new Map<string, CauseKind>();
  for (const answer of answers) for (const cause of answer.causes) causes.set(cause.name, cause);
  return [...causes.values()];
}

export class ChancePlane {
  private readonly joint: JointChance;
  /** [nSteady × nCauses] of each of the nine. */
  private readonly steady: readonly Float64Array[];
  /** By limit, the designs of the nine that have a shift for it. */
  private readonly used: readonly (readonly number[])[];
  /** [nTimed × nCauses] */
  private readonly timed: Float64Array;
  private readonly nSteady: number;

  constructor(
    /** First those at rest, then those of runs in time. */
    private readonly needs: readonly Need[],
    nineAnswers: readonly DesignAnswer[],
    timed: DesignAnswer | undefined,
  ) {
    this.joint = new JointChance(causesOf([...nineAnswers, ...(timed === undefined ? [] : [timed])]), nSamples);
    const { names } = this.joint;
    this.steady = nineAnswers.map((answer) => shiftsInOrder(answer, names));
    this.timed = timed === undefined ? new Float64Array(0) : shiftsInOrder(timed, names);
    this.nSteady = needs.length - (timed?.values.length ?? 0);
    this.used = Array.from({ length: this.nSteady }, (_, i) =>
      nine.flatMap((_place, k) =>
        this.steady[k]!.subarray(i * names.length, (i + 1) * names.length).some((shift) => shift !== 0) ? [k] : [],
      ),
    );
  }

  /** Chance at a place, with the values there in the order of the limits. */
  at(s: number, t: number, values: ArrayLike<number>): number {
    const nCauses = this.joint.names.length;
    const shifts = new Float64Array(this.needs.length * nCauses);
    const all = weightsOf(s, t, everyOne);
    for (let i = 0; i < this.nSteady; i++) {
      const used = this.used[i]!;
      const weights = used.length === 9 ? all : weightsOf(s, t, used);
      for (let at = 0; at < used.length; at++) {
        const rows = this.steady[used[at]!]!;
        for (let c = 0; c < nCauses; c++) shifts[i * nCauses + c]! += weights[at]! * rows[i * nCauses + c]!;
      }
    }
    shifts.set(this.timed, this.nSteady * nCauses);
    return this.joint.of(values, shifts, this.needs);
  }
}

/** Weights of some of the nine designs at a place: quadratic where all count, by nearness otherwise. */
function weightsOf(s: number, t: number, used: readonly number[]): readonly number[] {
  const line = (u: number): readonly number[] => [(2 * u - 1) * (u - 1), 4 * u * (1 - u), u * (2 * u - 1)];
  if (used.length === 9) {
    const [ws, wt] = [line(s), line(t)];
    return used.map((k) => ws[k % 3]! * wt[Math.floor(k / 3)]!);
  }
  const raw = used.map((k) => 1 / (1e-6 + (nine[k]![0] - s) ** 2 + (nine[k]![1] - t) ** 2));
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map((weight) => weight / sum);
}
