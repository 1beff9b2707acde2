/**
 * A chip under the pointer: the same answers in two speeds. What can be read off an operating point follows in the frame; times, modes,
 * light and doubt follow later, piece by piece, and are marked stale till then. Pure: a worker, a test and the page share it.
 * Main test: live-chip.test.ts.
 */
import { type Finding, formatQuantity, parsePhrase } from "#base";
import {
  assembleLedger,
  type Chip,
  dimensionOf,
  type Estimate,
  estimateInPieces,
  findMetric,
  type Ledger,
  type LedgerQuestions,
  LinearSamples,
  type MetricRequest,
  openChip,
  phraseWithNumber,
  questionsOf,
  type SideEstimates,
} from "#chip";
import { type DeviceView, viewDevice } from "#devices";
import { type CurvePlot, curvesOf } from "./curves.ts";
import { followsPointer } from "./frame-metrics.ts";
import type { Held, LiveQuestion } from "./question.ts";
import { type Rail, railsOf } from "./rails.ts";

/** A predicted number of the prose, as built. */
export interface Answer {
  readonly word: string;
  readonly text: string;
  /** SI; NaN where it does not exist, with the reason. */
  readonly value: number;
  readonly reason: string | undefined;
}

export interface LiveAnswer {
  readonly rails: readonly Rail[];
  readonly answers: readonly Answer[];
  readonly view: DeviceView | undefined;
  /** Problems of the design; only with the last answer of all, since other states of balance are sought for them. */
  readonly findings: readonly Finding[] | undefined;
}

/** How far an answer is, with what is known by then; the last one is the whole. */
export type LivePieces = Generator<{ readonly part: number; readonly answer?: LiveAnswer }, LiveAnswer, void>;

/** What the prose says about the case in view. */
const answerWords = ["supply current", "pad power", "hottest silicon temperature", "steady travel", "peak beam stress"] as const;

const sides = ["drawn", "built"] as const;
type Side = (typeof sides)[number];

/** Estimates of all questions of both sides, with the causes of their doubt: plain data, so that another worker can go on from them. */
export interface Doubts {
  /** Which questions they answer. */
  readonly askedFor: string;
  readonly drawn: readonly Estimate[];
  readonly built: readonly Estimate[];
  readonly causes: SideEstimates["causes"];
}

/** One side while its frame is worked out. */
interface FrameSide {
  readonly side: Side;
  readonly model: ReturnType<Chip["side"]>;
  readonly values: { readonly value: number; readonly reason?: string }[];
}

interface Asked {
  readonly questions: LedgerQuestions;
  /** Says which questions these are: other ones have other columns. */
  readonly key: string;
}

export class LiveChip {
  private kept: Doubts | undefined;
  private readonly last = new Map<Side, ReturnType<Chip["side"]>>();
  private readonly lastValues = new Map<Side, { readonly askedFor: string; readonly values: FrameSide["values"] }>();
  private readonly linearSamples = new LinearSamples();

  private constructor(readonly chip: Chip) {}

  /** Throws InputError with every problem of the text. */
  static open(text: string, file: string): LiveChip {
    return new LiveChip(openChip(text, { file }));
  }

  /** What the last full answer found. */
  get doubts(): Doubts | undefined {
    return this.kept;
  }

  /** Goes on from doubts found elsewhere. */
  keep(doubts: Doubts): void {
    this.kept = doubts;
  }

  /**
   * What can be read off the operating points, now: first at the case in view, where the other cases keep what they had, then at all.
   * Throws InputError or EvaluationError where the held values do not fit.
   */
  *frame(question: LiveQuestion): LivePieces {
    const chip = this.holding(question.held);
    const asked = this.ask(chip, question);
    const stale = asked.questions.requests.map((request) => !isOfFrame(chip, request));
    const [drawn, built] = sides.map((side) => this.beginFrame(chip, side, asked)) as [FrameSide, FrameSide];
    const answer = (): LiveAnswer =>
      this.answer(chip, question, { asked, stale, drawn: this.estimatesOf(drawn, asked), built: this.estimatesOf(built, asked) });
    const isInView = (request: MetricRequest): boolean => request.caseName === question.caseName;
    for (const side of [drawn, built]) readFrame(chip, side, { asked, isWanted: isInView });
    yield { part: 0.5, answer: answer() };
    for (const side of [drawn, built]) {
      readFrame(chip, side, { asked, isWanted: (request) => !isInView(request) });
      side.model.forgetNear();
      this.last.set(side.side, side.model);
      this.lastValues.set(side.side, { askedFor: asked.key, values: side.values });
    }
    return answer();
  }

  /**
   * Everything, to the end of all doubts. Yields an answer as soon as all values are known, whose doubts are those of the last time, and
   * again how far it is before each further piece.
   */
  *later(question: LiveQuestion): LivePieces {
    const chip = this.holding(question.held);
    const asked = this.ask(chip, question);
    const { requests } = asked.questions;
    const none = requests.map(() => false);
    const near = (side: Side) => optional("near", this.last.get(side));
    const drawnPieces = estimateInPieces(chip, "drawn", { requests, doubt: false, ...near("drawn") });
    const drawnStep = drawnPieces.next();
    if (drawnStep.done !== true) throw new RangeError("Cannot estimate the drawn side: wanted no doubt, found some");
    const drawn = drawnStep.value;
    yield { part: 0.1 };
    const pieces = estimateInPieces(chip, "built", { requests, doubt: true, ...near("built") });
    for (let step = pieces.next(); ; step = pieces.next()) {
      if (step.done === true) {
        const { estimates, causes } = step.value;
        this.kept = { askedFor: asked.key, drawn: drawn.estimates, built: estimates, causes };
        this.last.set("drawn", drawn.model);
        this.last.set("built", step.value.model);
        for (const [side, found] of [
          ["drawn", drawn.estimates],
          ["built", estimates],
        ] as const)
          this.lastValues.set(side, {
            askedFor: asked.key,
            values: found.map(({ value, reason }) => ({ value, ...optional("reason", reason) })),
          });
        return this.answer(chip, question, { asked, stale: none, drawn, built: step.value, isLast: true });
      }
      const { done, total, values, model } = step.value;
      const part = 0.2 + (0.8 * done) / total;
      if (done > 0) yield { part };
      else {
        const estimates = this.withKept(asked, { side: "built", values });
        const built = { side: "built" as const, model, causes: this.causes(), estimates };
        yield { part, answer: this.answer(chip, question, { asked, stale: none, drawn, built }) };
      }
    }
  }

  /** Lines for plots about the point where the device stands. */
  curves(question: LiveQuestion): readonly CurvePlot[] {
    return curvesOf(this.holding(question.held), question);
  }

  /** The chip with the numbers that are held; its text stays as it is. */
  holding(held: readonly Held[]): Chip {
    let { chip } = this;
    for (const { key, digits } of held) {
      const quantity = chip.addresses.at(key);
      if (quantity === undefined) throw new RangeError(`Cannot hold "${key}": the text has no such quantity`);
      chip = chip.withPhrase(quantity, parsePhrase(phraseWithNumber(quantity.text, digits)));
    }
    return chip;
  }

  private ask(chip: Chip, question: LiveQuestion): Asked {
    const extra = answerWords.map((word): MetricRequest => {
      const metric = findMetric(word);
      if (metric === undefined) throw new RangeError(`Cannot ask for "${word}": it is not a metric`);
      return { metric, device: question.device, caseName: question.caseName, argument: undefined, where: undefined };
    });
    const questions = questionsOf(chip, extra);
    const key = JSON.stringify(
      questions.requests.map(({ metric, device, caseName, argument, where }) => [metric.word, device, caseName, argument, where]),
    );
    return { questions, key };
  }

  private causes(): SideEstimates["causes"] {
    return this.kept?.causes ?? new Map();
  }

  /** Values of now with the doubts of the last time. */
  private withKept(
    asked: Asked,
    at: { readonly side: Side; readonly values: readonly { readonly value: number; readonly reason?: string }[] },
  ): readonly Estimate[] {
    const kept = this.keptOf(asked, at.side);
    return at.values.map(({ value, reason }, i) => {
      const { sigma, shares, shifts } = kept?.[i] ?? { sigma: 0, shares: [], shifts: new Map() };
      return { value, sigma, shares, shifts, ...optional("reason", reason) };
    });
  }

  private keptOf(asked: Asked, side: Side): readonly Estimate[] | undefined {
    return this.kept?.askedFor === asked.key ? this.kept[side] : undefined;
  }

  /** A side with the values of the last time, as far as the same is asked. */
  private beginFrame(chip: Chip, side: Side, asked: Asked): FrameSide {
    const near = this.last.get(side);
    const before = this.lastValues.get(side);
    const kept = this.keptOf(asked, side);
    const values = asked.questions.requests.map((_, i): FrameSide["values"][number] => {
      if (before?.askedFor === asked.key) return before.values[i]!;
      return { value: kept?.[i]?.value ?? Number.NaN };
    });
    return { side, model: chip.side(side, near === undefined ? {} : { near }), values };
  }

  private estimatesOf({ side, model, values }: FrameSide, asked: Asked): SideEstimates {
    return { side, model, causes: this.causes(), estimates: this.withKept(asked, { side, values }) };
  }

  private answer(
    chip: Chip,
    question: LiveQuestion,
    work: { asked: Asked; stale: readonly boolean[]; drawn: SideEstimates; built: SideEstimates; isLast?: true },
  ): LiveAnswer {
    const { asked, stale, drawn, built } = work;
    const ledger: Ledger = assembleLedger(
      chip,
      {
        questions: asked.questions,
        drawn: { estimates: drawn, samples: undefined },
        built: { estimates: built, samples: undefined },
      },
      this.linearSamples,
    );
    return {
      rails: railsOf(ledger, { questions: asked.questions, stale, hasDoubt: this.keptOf(asked, "built") !== undefined }),
      answers: answerWords.map((word, i) => answerOf(word, built.estimates[i]!, asked.questions.requests[i]!)),
      view: viewOf(built.model, question),
      findings: work.isLast === true ? ledger.findings : undefined,
    };
  }
}

function optional<K extends string, V>(key: K, value: V | undefined): { readonly [key in K]?: V } {
  return value === undefined ? {} : ({ [key]: value } as { readonly [key in K]?: V });
}

/** Reads the metrics of a frame off a side, those of its own cases. */
function readFrame(
  chip: Chip,
  side: FrameSide,
  at: { readonly asked: Asked; readonly isWanted: (request: MetricRequest) => boolean },
): void {
  at.asked.questions.requests.forEach((request, i) => {
    if (isOfFrame(chip, request) && at.isWanted(request)) side.values[i] = side.model.valueOf(request);
  });
}

function isOfFrame(chip: Chip, request: MetricRequest): boolean {
  return (
    request.caseName !== undefined && chip.names.steadyCases.includes(request.caseName) && followsPointer(request.metric.word)
  );
}

function answerOf(word: string, estimate: Estimate, request: MetricRequest): Answer {
  const { value, reason } = estimate;
  return { word, value, reason, text: formatQuantity(value, dimensionOf(request.metric), { digits: 3 }) };
}

/** The device as built at the case in view; undefined where it has no state there. */
function viewOf(side: ReturnType<Chip["side"]>, question: LiveQuestion): DeviceView | undefined {
  const { device, caseName, exaggeration } = question;
  const point = side.pointAt(device, caseName);
  if (point.absent.has("all") || point.absent.has("mechanics")) return undefined;
  return viewDevice(side.modelAt(device, caseName), { point, exaggeration });
}
