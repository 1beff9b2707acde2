/**
 * One side of the conversation with the page: holds the chip of the last text that reads well, and answers. A later question that is
 * overtaken by a newer message stops at its next piece. Main test: session.test.ts.
 */
import { ExpressionError, InputError, SolveError } from "#base";
import { caseProse, describeDifference, drawDevice, EvaluationError, phraseWithNumber, proseOf, replaceValue } from "#chip";
import type { Tokens } from "#picture";
import { LiveChip, type LivePieces } from "./live-chip.ts";
import type { ChipSummary, Opened, Reply, Request } from "./messages.ts";
import type { Held, LiveQuestion } from "./question.ts";

const file = "chip.yaml";

/** Lets messages in between two pieces of work. */
export type Breathe = () => Promise<void>;

export class Session {
  private live: LiveChip | undefined;
  private text = "";
  /** Counts the messages, so that long work sees that a newer one has come. */
  private newest = 0;

  constructor(private readonly breathe: Breathe) {}

  /** Answers a request; `tell` may be called more than once for a later question, last with what is returned. */
  async answer(request: Request, tell: (reply: Reply) => void): Promise<Reply> {
    const number = ++this.newest;
    switch (request.kind) {
      case "open":
        return { kind: "opened", opened: this.open(request.text) };
      case "frame":
        return this.follow((chip) => chip.frame(request.question), { number, tell });
      case "later":
        return this.later(request.question, { number, tell });
      case "curves":
        return this.curves(request.question);
      case "picture":
        return this.picture(request.question, request.tokens);
      case "keep":
        this.live?.keep(request.doubts);
        return { kind: "kept" };
      case "write":
        return this.write(request.held);
      case "write value":
        return this.writeAt(request.path, request.value);
      case "compare":
        return { kind: "compared", sentence: describeDifference(request.before, request.after) };
    }
  }

  private chip(): LiveChip {
    if (this.live === undefined) throw new RangeError("Cannot answer: no text that reads well has been opened");
    return this.live;
  }

  private open(text: string): Opened {
    try {
      this.live = LiveChip.open(text, file);
      this.text = text;
      return { kind: "open", summary: this.summary() };
    } catch (error) {
      if (error instanceof InputError) return { kind: "problems", problems: error.problems };
      throw error;
    }
  }

  private summary(): ChipSummary {
    const { chip } = this.chip();
    return {
      title: chip.description.sections.chip,
      note: chip.description.sections.note,
      paragraphs: proseOf(chip),
      cases: chip.names.steadyCases.map((name) => ({ name, words: caseProse(chip, name) })),
      devices: chip.names.devices,
      term: chip.term,
    };
  }

  /** Tells each answer as it comes, between breaths, unless a newer question has come. */
  private async follow(
    pieces: (chip: LiveChip) => LivePieces,
    at: { readonly number: number; readonly tell: (reply: Reply) => void },
  ): Promise<Reply> {
    try {
      const going = pieces(this.chip());
      for (;;) {
        const piece = going.next();
        if (piece.done === true) return { kind: "found", part: 1, found: { kind: "answer", answer: piece.value } };
        const { answer, part } = piece.value;
        if (answer !== undefined) at.tell({ kind: "found", part, found: { kind: "answer", answer } });
        await this.breathe();
        if (at.number !== this.newest) return { kind: "overtaken" };
      }
    } catch (error) {
      return { kind: "found", part: 1, found: { kind: "refused", reason: reasonOf(error) } };
    }
  }

  private curves(question: LiveQuestion): Reply {
    try {
      return { kind: "drawn", plots: this.chip().curves(question) };
    } catch (error) {
      return { kind: "refused", reason: reasonOf(error) };
    }
  }

  /** The device at the case in view, to be saved. */
  private picture(question: LiveQuestion, tokens: Tokens): Reply {
    const { device, caseName, exaggeration } = question;
    try {
      const chip = this.chip().holding(question.held);
      return { kind: "pictured", svg: drawDevice(chip, { device, caseName, exaggeration, side: "built", points: [], tokens }) };
    } catch (error) {
      return { kind: "refused", reason: reasonOf(error) };
    }
  }

  /** What was found, with the doubts from which another worker goes on. */
  private async later(
    question: LiveQuestion,
    at: { readonly number: number; readonly tell: (reply: Reply) => void },
  ): Promise<Reply> {
    const last = await this.follow((chip) => chip.later(question), at);
    if (last.kind !== "found" || last.found.kind !== "answer") return last;
    const { doubts } = this.chip();
    return { ...last, ...(doubts !== undefined && { doubts }) };
  }

  /** The text with the number of one quantity written anew. */
  private write({ key, digits }: Held): Reply {
    const { chip } = this.chip();
    const quantity = chip.addresses.at(key);
    if (quantity === undefined) return this.writeAt(key.split("."), digits);
    return this.writeAt(quantity.path, phraseWithNumber(quantity.text, digits));
  }

  private writeAt(path: readonly string[], value: string): Reply {
    try {
      const text = replaceValue(this.text, { file, path, value });
      LiveChip.open(text, file);
      return { kind: "written", text, sentence: describeDifference(this.text, text) };
    } catch (error) {
      return { kind: "refused", reason: reasonOf(error) };
    }
  }
}

function reasonOf(error: unknown): string {
  if (error instanceof InputError) return error.problems[0]!.message;
  if (
    error instanceof EvaluationError ||
    error instanceof SolveError ||
    error instanceof ExpressionError ||
    error instanceof RangeError
  )
    return error.message;
  throw error;
}
