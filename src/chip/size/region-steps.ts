/**
 * A region, step by step: coarse first, then finer, then exact edges, then chances.
 *
 * Few designs are solved, with their derivatives; a smooth stand-in (hermite-plane.ts) says the rest. The first picture comes from the four
 * corners; then the grid is halved where an edge may run and the stand-in is not yet sure. Then each edge is held to the model itself at
 * points along it (edges.ts). Runs in time take much longer than states at rest, so that their limits have a stand-in of their own, which
 * comes second. Designs are worked out by whoever is given: here, or in any number of workers (design-questions.ts).
 * Main test: region-steps.test.ts.
 */
import { contourLines } from "#numerics";
import { meets } from "../ledger/chance.ts";
import type { Chip } from "../predict/chip.ts";
import { ChancePlane, chanceIn, nine } from "./chance-plane.ts";
import {
  type AskDesign,
  createDesignSolver,
  type DesignAnswer,
  type DesignQuestion,
  type RegionRequest,
} from "./design-questions.ts";
import { type Axis, axesOf, designAt, limitsOver, type SizeLimit } from "./design-space.ts";
import { anchorsOf, movedWith, placeOf, type RegionEdge, takeValue } from "./edges.ts";
import { answersOf, type StopSignal } from "./lanes.ts";
import { LimitGroup, type WantedNode } from "./limit-group.ts";
import { plainAxis, type Region, type RegionDesign, type RegionLimit } from "./region.ts";

/** What a step was about: designs of the first picture, of finer ones, of exact edges, of the doubt, of the two designs that are told. */
export type RegionStage = "first look" | "finer" | "edges" | "doubt" | "designs";

export interface RegionStep {
  readonly stage: RegionStage;
  /** The same in words, for a line of progress. */
  readonly what: string;
  /** Designs of this stage worked out, and to be worked out. */
  readonly done: number;
  readonly total: number;
  /** A picture, whenever there is a better one than before. */
  readonly region: Region | undefined;
}

export interface RegionWork {
  /** Who works out designs, one for each worker; this very thread where left out. */
  readonly lanes?: readonly AskDesign[];
  /** Ends the work with Cancelled between two designs; an AbortSignal is one. */
  readonly signal?: StopSignal;
}

const chanceLevels = [0.5, 0.75, 0.9];
const nChancePoints = 41;

type Steps<T> = AsyncGenerator<RegionStep, T, void>;

class RegionStudy {
  private readonly axes: readonly Axis[];
  private readonly limits: readonly SizeLimit[];
  readonly steady: LimitGroup;
  readonly timed: LimitGroup;
  private readonly lanes: readonly AskDesign[];
  /** Why values are missing, by the sentence without its numbers: one of each kind is enough. */
  private readonly reasons = new Map<string, string>();
  private readonly edges = new Map<SizeLimit, readonly RegionEdge[]>();
  private readonly points: number;
  private nDesigns = 0;
  private chance: Pick<Region, "chances" | "contours"> = { chances: new Float64Array(0), contours: [] };
  private told: Pick<Region, "present" | "best"> = { present: undefined, best: undefined };

  constructor(
    chip: Chip,
    private readonly request: RegionRequest,
    private readonly work: RegionWork,
  ) {
    this.axes = axesOf(chip, [request.x, request.y]);
    this.limits = limitsOver(chip, this.axes, request.caseName);
    this.points = request.points ?? 101;
    const isTimed = ({ request: { metric } }: SizeLimit): boolean => metric.timed === true;
    const group = (limits: readonly SizeLimit[], wantedError: number) =>
      new LimitGroup(limits, this.limits, this.axes, wantedError);
    this.steady = group(
      this.limits.filter((limit) => !isTimed(limit)),
      3e-4,
    );
    // a run in time is not solved much closer than that itself
    this.timed = group(this.limits.filter(isTimed), 2e-3);
    this.lanes = work.lanes ?? [createDesignSolver(chip, request)];
  }

  /** Has questions worked out; `take` is told each answer. */
  private async *ask(
    stage: RegionStage,
    what: string,
    questions: readonly DesignQuestion[],
    take: (answer: DesignAnswer, number: number) => void,
  ): Steps<void> {
    let done = 0;
    yield { stage, what, done, total: questions.length, region: undefined };
    for await (const { number, answer } of answersOf(this.lanes, questions, this.work.signal)) {
      this.nDesigns++;
      for (const reason of answer.reasons) {
        const kind = reason.replace(/[-\u2212\d.]+/g, "0");
        if (!this.reasons.has(kind)) this.reasons.set(kind, reason);
      }
      take(answer, number);
      yield { stage, what, done: ++done, total: questions.length, region: undefined };
    }
  }

  /** Solves nodes of a group, and shows what it comes to. */
  async *solve(group: LimitGroup, stage: RegionStage, what: string, nodes: readonly WantedNode[]): Steps<void> {
    if (nodes.length === 0) return;
    const questions = nodes.map(({ question }) => question);
    yield* this.ask(stage, what, questions, (answer, number) => group.take(nodes[number]!, answer));
    yield this.show(stage, what);
  }

  show(stage: RegionStage, what: string): RegionStep {
    return { stage, what, done: 1, total: 1, region: this.picture() };
  }

  /** Holds the edges of a group to the model at points along them: rounds of one design for each point that has not arrived. */
  async *holdEdges(group: LimitGroup, most: number): Steps<void> {
    const runs = group.limits.flatMap((limit, f) =>
      group.edgesOf(f, this.points).map((edge) => ({
        limit,
        edge,
        anchors: anchorsOf(edge, { most, axes: this.axes, slopeAt: (s, t) => group.plane.slopeAt(s, t, f) }),
      })),
    );
    if (runs.length === 0) return;
    const all = runs.flatMap(({ limit, edge, anchors }) =>
      anchors.map((anchor) => ({ anchor, fence: edge.fence, limits: Uint16Array.of(this.limits.indexOf(limit)) })),
    );
    for (let round = 0; round < 4; round++) {
      const open = all.filter(({ anchor }) => anchor.state === "under way");
      const questions = open.map(
        ({ anchor, limits }): DesignQuestion => ({ kind: "values", x: designAt(this.axes, ...placeOf(anchor)), limits }),
      );
      yield* this.ask("edges", "exact edges", questions, ({ values }, number) => {
        takeValue(open[number]!.anchor, values[0]!, open[number]!.fence);
      });
    }
    for (const limit of group.limits) {
      const own = runs.filter((run) => run.limit === limit);
      this.edges.set(
        limit,
        own.map(({ edge, anchors }) => movedWith(edge, anchors, this.axes)),
      );
    }
    yield this.show("edges", "exact edges");
  }

  private numbersOf(...groups: readonly LimitGroup[]): Uint16Array {
    return Uint16Array.from(
      groups.flatMap(({ limits }) => [...limits]),
      (limit) => this.limits.indexOf(limit),
    );
  }

  /** Chances over the plane, then the design of the text and the best one, solved in full with their own doubt. */
  async *workChances(): Steps<void> {
    const order = [...this.steady.limits, ...this.timed.limits];
    const everything = this.numbersOf(this.steady, this.timed);
    const place = this.axes.map(({ present, low, high }) => (present - low) / (high - low)) as [number, number];
    const isInside = place.every((value) => value >= 0 && value <= 1);
    const doubtAt = (s: number, t: number, limits: Uint16Array): DesignQuestion => ({
      kind: "doubt",
      x: designAt(this.axes, s, t),
      limits,
    });
    const questions = nine.map(([s, t]) => doubtAt(s, t, this.numbersOf(this.steady)));
    // the doubt of runs in time is known where it is worked out: in the design of the text, or in the middle
    questions.push(isInside ? doubtAt(...place, everything) : doubtAt(0.5, 0.5, everything));
    const answers: DesignAnswer[] = [];
    yield* this.ask("doubt", "doubt", questions, (answer, number) => {
      answers[number] = answer;
    });
    const own = answers.pop()!;
    const nSteady = this.steady.limits.length;
    const timed: DesignAnswer = {
      ...own,
      values: own.values.slice(nSteady),
      shifts: own.shifts.slice(nSteady * own.causes.length),
    };
    const plane = new ChancePlane(
      order.map(({ need }) => need),
      answers,
      timed,
    );
    const chanceAt = (s: number, t: number): number =>
      plane.at(s, t, [
        ...this.steady.limits.map((_, f) => this.steady.plane.valueAt(s, t, f)),
        ...this.timed.limits.map((_, f) => this.timed.plane.valueAt(s, t, f)),
      ]);
    const n = nChancePoints;
    const chances = Float64Array.from({ length: n * n }, (_, k) => chanceAt((k % n) / (n - 1), Math.floor(k / n) / (n - 1)));
    const [x, y] = this.axes as readonly [Axis, Axis];
    const toSi = (points: Float64Array): Float64Array =>
      points.map((value, k) => {
        const { low, high } = k % 2 === 0 ? x : y;
        return low + (value / (n - 1)) * (high - low);
      });
    const contours = chanceLevels.map((chance) => ({
      chance,
      lines: contourLines({ nx: n, ny: n, values: chances }, chance - 1e-9).map(({ points }) => toSi(points)),
    }));
    this.chance = { chances, contours };
    const told = (answer: DesignAnswer, at: readonly [number, number]): RegionDesign => {
      const [atX, atY] = designAt(this.axes, ...at);
      const values = new Float64Array(order.length);
      everything.forEach((number, k) => {
        values[number] = answer.values[k]!;
      });
      const chance = chanceIn(
        answer,
        order.map(({ need }) => need),
      );
      return { x: atX!, y: atY!, values, chance, foretold: chanceAt(...at) };
    };
    this.told = { present: isInside ? told(own, place) : undefined, best: undefined };
    yield this.show("doubt", "doubt");
    const best = bestOf(chances, n);
    if (best === undefined) return;
    yield* this.ask("designs", "the best design in full", [doubtAt(...best, everything)], (answer) => {
      this.told = { ...this.told, best: told(answer, best) };
    });
  }

  /** What is known by now. */
  picture(): Region {
    const limits = this.limits.map((limit): RegionLimit => {
      const group = this.steady.limits.includes(limit) ? this.steady : this.timed;
      const f = group.limits.indexOf(limit);
      const { requirement, label, dimension, need } = limit;
      const about = { requirement, label, dimension, need };
      if (!group.isThere) return { ...about, values: new Float64Array(0), error: Number.NaN, edges: [] };
      return {
        ...about,
        values: group.plane.grid(this.points, f),
        error: group.errorAlongEdges(f),
        edges: this.edges.get(limit) ?? group.edgesOf(f, this.points),
      };
    });
    const known = limits.filter(({ values }) => values.length > 0);
    const free = Uint8Array.from({ length: this.points ** 2 }, (_, k) =>
      known.every(({ values, need }) => meets(values[k]!, need)) ? 1 : 0,
    );
    return {
      x: plainAxis(this.axes[0]!),
      y: plainAxis(this.axes[1]!),
      side: this.request.side,
      points: this.points,
      limits,
      free,
      chancePoints: nChancePoints,
      ...this.chance,
      ...this.told,
      reasons: [...this.reasons.values()],
      nDesigns: this.nDesigns,
    };
  }
}

/** Place of the best chance on the grid; of equals, the middle one, which lies furthest from the edges. Undefined where all are zero. */
function bestOf(chances: Float64Array, n: number): readonly [number, number] | undefined {
  const most = chances.reduce((a, b) => Math.max(a, b), 0);
  if (!(most > 0)) return undefined;
  const equal = Array.from(chances.keys()).filter((k) => chances[k]! >= most - 1e-12);
  const column = (k: number): number => k % n;
  const row = (k: number): number => Math.floor(k / n);
  const mean = (of: (k: number) => number): number => equal.reduce((sum, k) => sum + of(k), 0) / equal.length;
  const [i, j] = [mean(column), mean(row)];
  const distance = (k: number): number => Math.hypot(column(k) - i, row(k) - j);
  const best = equal.reduce((a, b) => (distance(b) < distance(a) ? b : a));
  return [column(best) / (n - 1), row(best) / (n - 1)];
}

/**
 * The region over two quantities, in steps. A step carries a picture whenever there is a better one; the first is the coarse one, the
 * returned one the finished one. Throws InputError at the first step where a range cannot be used, and Cancelled when told to stop. All
 * that it yields and returns is plain data. It never waits by itself: whoever drains it on a thread that has other work lets that work run
 * between two steps.
 */
export async function* regionInSteps(chip: Chip, request: RegionRequest, work: RegionWork = {}): Steps<Region> {
  const study = new RegionStudy(chip, request, work);
  const { steady, timed } = study;
  const halvings = request.halvings ?? 3;
  yield* study.solve(steady, "first look", "first look", steady.corners());
  for (let level = 0; level < halvings; level++) {
    const nodes = steady.halve();
    yield* study.solve(steady, "finer", `finer, ${steady.plane.cells} by ${steady.plane.cells} cells`, nodes);
  }
  yield* study.holdEdges(steady, 7);
  yield* study.solve(timed, "first look", "first look at runs in time", timed.corners());
  for (let level = 0; level < halvings; level++) {
    const nodes = timed.halve();
    yield* study.solve(timed, "finer", `runs in time, ${timed.plane.cells} by ${timed.plane.cells} cells`, nodes);
  }
  yield* study.holdEdges(timed, 3);
  yield* study.workChances();
  return study.picture();
}
