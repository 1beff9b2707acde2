/**
 * Studies of sizes, beside the numbers under the pointer: which sizes matter, where a design may live, what could be traded. Long work in
 * short pieces: between two of them letters come in, and a newer study, another text or a word ends the one under way. A second worker
 * helps with designs: the questions to it and its answers go through whoever is told. Main test: study.test.ts.
 */
import {
  type AskDesign,
  Cancelled,
  type Chip,
  createDesignSolver,
  type DesignAnswer,
  type DesignQuestion,
  type Region,
  type RegionRequest,
  regionInSteps,
  type SizeChoice,
  type StudyStep,
  sizeChoicesInSteps,
  type Trades,
  tradesInSteps,
} from "#chip";
import { followsPointer } from "./frame-metrics.ts";

export type StudyRequest =
  /** Sizes that a study can be about: those first that limits which follow the pointer feel most, or at once in the order of the text. */
  | { readonly kind: "sizes"; readonly side: Side; readonly ranked: boolean }
  /** Where a design may live; with so many questions at once given away to a helper. */
  | { readonly kind: "region"; readonly about: RegionRequest; readonly helpers: number }
  /** The answer to a question that was given away. */
  | { readonly kind: "helped"; readonly number: number; readonly answer: DesignAnswer }
  /** A question of another worker. */
  | { readonly kind: "help"; readonly about: RegionRequest; readonly question: DesignQuestion }
  | { readonly kind: "trades"; readonly side: Side; readonly caseName: string | undefined }
  | { readonly kind: "end study" };

type Side = RegionRequest["side"];

export type StudyReply =
  /** How far it is, and a picture where there is a better one than before. */
  | { readonly kind: "studied"; readonly step: StudyStep; readonly region: Region | undefined }
  | { readonly kind: "asks help"; readonly number: number; readonly question: DesignQuestion }
  | { readonly kind: "helps"; readonly answer: DesignAnswer }
  | { readonly kind: "sized"; readonly choices: readonly SizeChoice[] }
  | { readonly kind: "region"; readonly region: Region }
  | { readonly kind: "traded"; readonly trades: Trades }
  | { readonly kind: "ended" };

/** Trades that are solved in full. */
const nTrades = 8;

interface Work {
  readonly chip: Chip;
  readonly tell: (reply: StudyReply) => void;
}

export class StudyDesk {
  private current = { aborted: false };
  /** Questions that were given away, by their number. */
  private readonly waiting = new Map<
    number,
    { readonly take: (answer: DesignAnswer) => void; readonly drop: (why: Cancelled) => void }
  >();
  private nAsked = 0;
  private helping: { readonly about: string; readonly solve: (question: DesignQuestion) => DesignAnswer } | undefined;

  constructor(private readonly breathe: () => Promise<void>) {}

  /** Another text: what is under way is about the former one. */
  forget(): void {
    this.end();
    this.helping = undefined;
  }

  /** Answers a request about the chip; throws what the study throws, but for Cancelled. */
  async answer(request: StudyRequest, { chip, tell }: Work): Promise<StudyReply> {
    switch (request.kind) {
      case "sizes":
        return this.drain(
          sizeChoicesInSteps(chip, { side: request.side, rankedBy: request.ranked ? followsPointer : undefined }),
          tell,
          (choices) => ({ kind: "sized", choices }),
        );
      case "region":
        return this.region(request, { chip, tell });
      case "helped":
        this.waiting.get(request.number)?.take(request.answer);
        this.waiting.delete(request.number);
        return { kind: "ended" };
      case "help":
        return { kind: "helps", answer: this.solver(request.about, chip)(request.question) };
      case "trades": {
        const { side, caseName } = request;
        const options = { side, count: nTrades, ...(caseName !== undefined && { caseName }) };
        return this.drain(tradesInSteps(chip, options), tell, (trades) => ({ kind: "traded", trades }));
      }
      case "end study":
        this.end();
        return { kind: "ended" };
    }
  }

  private end(): void {
    this.current.aborted = true;
    for (const { drop } of this.waiting.values()) drop(new Cancelled());
    this.waiting.clear();
  }

  /** A study of its own: the one under way ends. */
  private begin(): { aborted: boolean } {
    this.end();
    this.current = { aborted: false };
    return this.current;
  }

  private async drain<T>(
    steps: Generator<StudyStep, T, void>,
    tell: Work["tell"],
    reply: (found: T) => StudyReply,
  ): Promise<StudyReply> {
    const signal = this.begin();
    for (;;) {
      const step = steps.next();
      if (step.done === true) return reply(step.value);
      tell({ kind: "studied", step: step.value, region: undefined });
      await this.breathe();
      if (signal.aborted) return { kind: "ended" };
    }
  }

  /** Answers questions of one study, from designs near to those before. */
  private solver(about: RegionRequest, chip: Chip): (question: DesignQuestion) => DesignAnswer {
    const words = JSON.stringify(about);
    if (this.helping?.about !== words) this.helping = { about: words, solve: createDesignSolver(chip, about) };
    return this.helping.solve;
  }

  private async region(request: Extract<StudyRequest, { kind: "region" }>, { chip, tell }: Work): Promise<StudyReply> {
    const signal = this.begin();
    const solve = this.solver(request.about, chip);
    const own: AskDesign = async (question) => {
      await this.breathe();
      if (signal.aborted) throw new Cancelled();
      return solve(question);
    };
    const away: AskDesign = (question) => {
      const number = ++this.nAsked;
      tell({ kind: "asks help", number, question });
      return new Promise((take, drop) => this.waiting.set(number, { take, drop }));
    };
    const lanes = [...Array.from({ length: request.helpers }, () => away), own];
    const steps = regionInSteps(chip, request.about, { lanes, signal });
    try {
      for (;;) {
        const step = await steps.next();
        if (step.done === true) return { kind: "region", region: step.value };
        const { what, done, total, region } = step.value;
        tell({ kind: "studied", step: { what, done, total }, region });
      }
    } catch (error) {
      if (error instanceof Cancelled) return { kind: "ended" };
      throw error;
    }
  }
}
