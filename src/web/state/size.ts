/**
 * Where a design may live: the two sizes in view with their ranges, the region over them, and what could be traded. Worked out by two
 * workers of its own, beside those that follow the pointer; anew whenever the text becomes another, but for the two sizes themselves.
 */
import { effect, signal, untracked } from "@preact/signals";
import type { WorkerLine } from "#browser";
import { numberFrom, type Region, type RegionRequest, type SizeChoice, type Trades } from "#chip";
import type { Reply, StudyReply, StudyRequest } from "#workbench";
import { view } from "./stage.ts";
import { folder, heldDigits, problems, startLine, summary, text } from "./workbench.ts";

export interface StudiedSize {
  readonly key: string;
  readonly from: string;
  readonly to: string;
}

/** What is looked at; undefined until the sizes of the chip are known. */
export interface Study {
  readonly x: StudiedSize;
  readonly y: StudiedSize;
  readonly side: RegionRequest["side"];
  /** Only limits at this case; all where undefined. */
  readonly caseName: string | undefined;
}

export const choices = signal<readonly SizeChoice[]>([]);
export const study = signal<Study | undefined>(undefined);
export const region = signal<Region | undefined>(undefined);
export const trades = signal<Trades | undefined>(undefined);
/** What is being worked out and how far it is. */
export const studyWork = signal<{ readonly what: string; readonly done: number; readonly total: number } | undefined>(undefined);
export const studyRefusal = signal<string | undefined>(undefined);
/** Ended by the person; going on takes a press. */
export const isEnded = signal(false);

/** Questions about designs that wait at the second worker: one under way, one ready. */
const helpers = 2;

let desk: { readonly own: WorkerLine; readonly helper: WorkerLine } | undefined;
/** The text that both workers have, and the one that the region is about, with what was asked. */
let opened: string | undefined;
let shown: { readonly text: string; readonly study: Study } | undefined;
let run = 0;

export const choiceOf = ({ key }: StudiedSize): SizeChoice | undefined => choices.value.find(({ handle }) => handle.key === key);

/** Where a size stands now, in the hand or in the text, SI. */
export function presentOf({ handle, perUnit, zero }: SizeChoice): number {
  return numberFrom(heldDigits(handle.key) ?? handle.digits) * perUnit + zero;
}

/** The number of the text for a value in SI, to the decimals of its steps. */
export const digitsFor = ({ handle, perUnit, zero }: SizeChoice, si: number): string =>
  ((si - zero) / perUnit).toFixed(handle.decimals);

const keptName = (): string => `waferwright sizes ${folder.peek()?.id ?? ""}`;

function keptStudy(): Study | undefined {
  try {
    return JSON.parse(localStorage.getItem(keptName()) ?? "null") ?? undefined;
  } catch {
    return undefined;
  }
}

function keep(next: Study): void {
  try {
    localStorage.setItem(keptName(), JSON.stringify(next));
  } catch {
    // a browser that keeps nothing begins with the strongest sizes again
  }
}

const rangeOf = ({ handle: { key }, from, to }: SizeChoice): StudiedSize => ({ key, from, to });

/** The two sizes of the drawing that the limits feel most; drives where there are not two. */
function strongest(found: readonly SizeChoice[]): Study | undefined {
  const [x, y] = [...found].sort((a, b) => Number(a.isDrive) - Number(b.isDrive));
  return x === undefined || y === undefined ? undefined : { x: rangeOf(x), y: rangeOf(y), side: "built", caseName: undefined };
}

function ask(line: WorkerLine, request: StudyRequest, hear: (told: StudyReply) => void = () => undefined): Promise<Reply> {
  return line.ask({ kind: "study", study: request }, (reply) => {
    if (reply.kind === "study") hear(reply.study);
  });
}

const hearStep = (told: StudyReply): void => {
  if (told.kind !== "studied") return;
  studyWork.value = told.step;
  if (told.region !== undefined) region.value = told.region;
};

/** Sees to it that both workers have the text. */
async function openText(next: string): Promise<NonNullable<typeof desk>> {
  desk ??= { own: startLine(), helper: startLine() };
  if (opened !== next) {
    opened = next;
    await Promise.all([desk.own, desk.helper].map((line) => line.ask({ kind: "open", text: next })));
  }
  return desk;
}

/** The sizes of the text: ranked where none has been chosen yet, else in the order they had. */
async function findSizes(own: WorkerLine): Promise<Reply> {
  study.value ??= keptStudy();
  const ranked = study.value === undefined;
  const reply = await ask(own, { kind: "sizes", side: study.value?.side ?? "built", ranked }, hearStep);
  if (reply.kind === "study" && reply.study.kind === "sized") {
    const found = reply.study.choices;
    const rank = new Map(choices.peek().map(({ handle }, i) => [handle.key, i]));
    const rankOf = ({ handle }: SizeChoice): number => rank.get(handle.key) ?? rank.size;
    choices.value = ranked ? found : [...found].sort((a, b) => rankOf(a) - rankOf(b));
    const known = new Set(found.map(({ handle }) => handle.key));
    const { x, y } = study.value ?? {};
    if (x === undefined || y === undefined || !known.has(x.key) || !known.has(y.key)) study.value = strongest(found);
  }
  return reply;
}

/** Whether the region in view still holds: the text is another in nothing but its two sizes. */
async function stillHolds(own: WorkerLine, now: Study, next: string): Promise<boolean> {
  if (shown === undefined || JSON.stringify(shown.study) !== JSON.stringify(now)) return false;
  const reply = await own.ask({ kind: "same but for", before: shown.text, after: next, keys: [now.x.key, now.y.key] });
  return reply.kind === "same but for" && reply.same;
}

function requestOf({ x, y, side, caseName }: Study): RegionRequest | undefined {
  const named = (size: StudiedSize) => {
    const choice = choiceOf(size);
    return choice === undefined ? undefined : { name: choice.handle.name, from: size.from, to: size.to };
  };
  const [first, second] = [named(x), named(y)];
  if (first === undefined || second === undefined) return undefined;
  return { x: first, y: second, side, ...(caseName !== undefined && { caseName }) };
}

/** The region, its coarse picture first; the helper answers what it is asked. */
async function findRegion(lines: NonNullable<typeof desk>, about: RegionRequest): Promise<Reply> {
  return ask(lines.own, { kind: "region", about, helpers }, (told) => {
    hearStep(told);
    if (told.kind !== "asks help") return;
    const { number, question } = told;
    void ask(lines.helper, { kind: "help", about, question }).then((reply) => {
      if (reply.kind === "study" && reply.study.kind === "helps")
        void ask(lines.own, { kind: "helped", number, answer: reply.study.answer });
    });
  });
}

/** Works out all there is to see here, from the text as it stands. */
async function work(): Promise<void> {
  const number = ++run;
  const isOver = (): boolean => number !== run;
  const next = text.peek();
  const refused = (reply: Reply): boolean => {
    if (isOver()) return true;
    if (reply.kind === "refused") studyRefusal.value = reply.reason;
    return reply.kind === "refused" || (reply.kind === "study" && reply.study.kind === "ended");
  };
  isEnded.value = false;
  studyRefusal.value = undefined;
  try {
    const lines = await openText(next);
    if (isOver() || refused(await findSizes(lines.own))) return;
    const now = study.value;
    const about = now === undefined ? undefined : requestOf(now);
    if (now === undefined || about === undefined) {
      studyRefusal.value = "The text has fewer than two sizes with a number of their own: a map needs two.";
      return;
    }
    if (!(await stillHolds(lines.own, now, next))) {
      if (isOver()) return;
      [region.value, trades.value, shown] = [undefined, undefined, undefined];
      const reply = await findRegion(lines, about);
      if (refused(reply)) return;
      if (reply.kind === "study" && reply.study.kind === "region") region.value = reply.study.region;
      shown = { text: next, study: now };
    }
    if (isOver()) return;
    const reply = await ask(lines.own, { kind: "trades", side: now.side, caseName: now.caseName }, hearStep);
    if (!refused(reply) && reply.kind === "study" && reply.study.kind === "traded") trades.value = reply.study.trades;
  } finally {
    if (!isOver()) studyWork.value = undefined;
  }
}

/** Looks at something else. */
export function lookOver(next: Partial<Study>): void {
  if (study.value === undefined) return;
  study.value = { ...study.value, ...next };
  keep(study.value);
  void work();
}

/** Stops what is under way; what has been found stays. */
export function endStudy(): void {
  run++;
  isEnded.value = true;
  studyWork.value = undefined;
  if (desk !== undefined) void ask(desk.own, { kind: "end study" });
}

export const goOn = (): void => void work();

// another folder has other sizes
effect(() => {
  folder.value;
  [choices.value, study.value, region.value, trades.value, shown, opened] = [
    [],
    undefined,
    undefined,
    undefined,
    undefined,
    undefined,
  ];
});

effect(() => {
  const isInView = view.value === "size" && summary.value !== undefined && problems.value.length === 0;
  if (isInView) untracked(() => void work());
});
