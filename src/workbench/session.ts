/**
 * One side of the conversation with the page: holds the chip of the last text that reads well, and answers. A later question that is
 * overtaken by a newer message stops at its next piece. Main test: session.test.ts.
 */
import { ExpressionError, InputError, SolveError, type TextProblem } from "#base";
import {
  addEntry,
  type Chip,
  caseProse,
  completeText,
  contradictionsOf,
  describeDifference,
  drawDevice,
  EvaluationError,
  editBrief,
  layersOf,
  openChip,
  phraseWithNumber,
  proseOf,
  removeEntry,
  renameEntry,
  replaceValue,
} from "#chip";
import { endsOf } from "./ends.ts";
import { LiveChip, type LivePieces } from "./live-chip.ts";
import type { ChipSummary, Opened, Reply, Request } from "./messages.ts";
import { metricWordsOf } from "./metric-words.ts";
import { modesOf } from "./modes.ts";
import type { Held, LiveQuestion } from "./question.ts";
import { StudyDesk, type StudyRequest } from "./study.ts";
import { whyWords } from "./why.ts";

const file = "chip.yaml";

/** Lets messages in between two pieces of work. */
export type Breathe = () => Promise<void>;

/** What makes an answer that is under way worthless: another text or other numbers. */
const overtakes: ReadonlySet<Request["kind"]> = new Set([
  "open",
  "frame",
  "later",
  "write",
  "write value",
  "add entry",
  "remove entry",
  "rename entry",
]);

export class Session {
  private live: LiveChip | undefined;
  private text = "";
  /** Counts the messages that overtake, so that long work sees that a newer one has come. */
  private newest = 0;
  private readonly studies: StudyDesk;

  constructor(private readonly breathe: Breathe) {
    this.studies = new StudyDesk(breathe);
  }

  /** Answers a request; `tell` may be called more than once for a later question, last with what is returned. */
  async answer(request: Request, tell: (reply: Reply) => void): Promise<Reply> {
    if (overtakes.has(request.kind)) this.newest++;
    const number = this.newest;
    switch (request.kind) {
      case "open":
        return { kind: "opened", opened: this.open(request.text) };
      case "frame":
        return this.follow((chip) => chip.frame(request.question), { number, tell });
      case "later":
        return this.later(request.question, { number, tell });
      case "curves":
        return this.aside(() => ({ kind: "drawn", plots: this.chip().curves(request.question) }));
      case "picture":
        return this.picture(request);
      case "modes":
        return this.aside(() => ({ kind: "swung", modes: modesOf(this.holding(request.question), request.question) }));
      case "layers":
        return this.aside(() => ({ kind: "layered", layers: layersOf(this.holding(request.question), request.question.device) }));
      case "ends":
        return this.aside(() => ({ kind: "grasped", ends: endsOf(this.holding(request.question), request.question.device) }));
      case "keep":
        this.live?.keep(request.doubts);
        return { kind: "kept" };
      case "write":
        return this.write(request.held);
      case "write value":
        return this.writeAll([{ path: request.path, value: request.value }]);
      case "add entry":
        return this.rewrite((text) => addEntry(text, { ...request, file }));
      case "remove entry":
        return this.rewrite((text) => removeEntry(text, { ...request, file }));
      case "rename entry":
        return this.rewrite((text) => renameEntry(text, { ...request, file }));
      case "edit brief":
        return this.rewrite((text) => editBrief(text, { file, edit: request.edit }));
      case "why":
        return this.aside(() => ({ kind: "explained", words: whyWords(this.holding(request.question), request) }));
      case "vocabulary":
        return { kind: "vocabulary", metrics: metricWordsOf() };
      case "complete":
        return { kind: "completed", completion: completeText(request.text, request.offset) };
      case "check":
        return { kind: "checked", problems: problemsOf(request.text) };
      case "compare":
        return { kind: "compared", sentence: describeDifference(request.before, request.after) };
      case "same but for":
        return { kind: "same but for", same: isSameButFor(request) };
      case "study":
        return this.study(request.study, tell);
    }
  }

  private chip(): LiveChip {
    if (this.live === undefined) throw new RangeError("Cannot answer: no text that reads well has been opened");
    return this.live;
  }

  private open(text: string): Opened {
    this.studies.forget();
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
      caseNames: chip.names.cases,
      brief: chip.description.sections.brief ?? [],
      contradictions: contradictionsOf(chip),
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

  /** Something beside the numbers, or why it cannot be. */
  private aside(work: () => Reply): Reply {
    try {
      return work();
    } catch (error) {
      return { kind: "refused", reason: reasonOf(error) };
    }
  }

  private async study(study: StudyRequest, tell: (reply: Reply) => void): Promise<Reply> {
    try {
      const { chip } = this.chip();
      const reply = await this.studies.answer(study, { chip, tell: (told) => tell({ kind: "study", study: told }) });
      return { kind: "study", study: reply };
    } catch (error) {
      return { kind: "refused", reason: reasonOf(error) };
    }
  }

  private holding({ held }: LiveQuestion): Chip {
    return this.chip().holding(held);
  }

  /** The device at the case in view, to be saved. */
  private picture({ question, tokens, isolines }: Extract<Request, { kind: "picture" }>): Reply {
    const { device, caseName, exaggeration } = question;
    const request = { device, caseName, exaggeration, side: "built", points: [], tokens, isolines } as const;
    return this.aside(() => ({ kind: "pictured", svg: drawDevice(this.holding(question), request) }));
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

  /** The text with the numbers of some quantities written anew. */
  private write(held: readonly Held[]): Reply {
    const { chip } = this.chip();
    return this.writeAll(
      held.map(({ key, digits }) => {
        const quantity = chip.addresses.at(key);
        return quantity === undefined
          ? { path: key.split("."), value: digits }
          : { path: quantity.path, value: phraseWithNumber(quantity.text, digits) };
      }),
    );
  }

  private writeAll(values: readonly { readonly path: readonly string[]; readonly value: string }[]): Reply {
    return this.rewrite((text) => values.reduce((before, { path, value }) => replaceValue(before, { file, path, value }), text));
  }

  /** The text as a change leaves it, once it reads well, with the change in words. */
  private rewrite(change: (text: string) => string | { readonly text: string; readonly sentence: string }): Reply {
    try {
      const changed = change(this.text);
      const { text, sentence } =
        typeof changed === "string" ? { text: changed, sentence: describeDifference(this.text, changed) } : changed;
      LiveChip.open(text, file);
      return { kind: "written", text, sentence };
    } catch (error) {
      return { kind: "refused", reason: reasonOf(error) };
    }
  }
}

/** Whether one text becomes the other once it has its values of these quantities. False where one of them does not read. */
function isSameButFor({ before, after, keys }: Extract<Request, { kind: "same but for" }>): boolean {
  try {
    const former = openChip(before, { file });
    const same = keys.reduce((text, key) => {
      const quantity = former.addresses.at(key);
      return quantity === undefined ? text : replaceValue(text, { file, path: quantity.path, value: quantity.text });
    }, after);
    return same === before;
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

/** What is wrong with a text, in its order; nothing of it is kept. */
function problemsOf(text: string): readonly TextProblem[] {
  try {
    LiveChip.open(text, file);
    return [];
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
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
