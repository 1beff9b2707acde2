/**
 * The state of the page: one text, what it comes to, and the number that is held. Data flow one way: a change goes into the text, the
 * text into the workers, their answers onto the page.
 */
import { computed, effect, signal } from "@preact/signals";
import type { TextProblem } from "#base";
import { type ChipStore, type FolderEntry, Newest, WorkerLine } from "#browser";
import type { Handle } from "#chip";
import type { Tokens } from "#picture";
import type { ChipSummary, Held, LiveAnswer, LiveQuestion, Rail, Reply, Request } from "#workbench";
import { addChange, forgetChanges, lastChange, nextChange, stepBack, stepForward } from "./history.ts";
import { takePicture } from "./pictured.ts";

export const folders = signal<readonly FolderEntry[]>([]);
/** Where chips are kept: behind a server, on the disk, or in this page alone. */
export const storeKind = signal<ChipStore["kind"]>("memory");
export const folder = signal<FolderEntry | undefined>(undefined);
export const text = signal("");
export const problems = signal<readonly TextProblem[]>([]);
export const summary = signal<ChipSummary | undefined>(undefined);
export const caseName = signal("");
export const device = signal("");
export const exaggeration = signal(1);
/** Numbers under the pointer, not yet in the text. */
export const held = signal<readonly Held[]>([]);
/** What the number of a quantity reads while it is held. */
export const heldDigits = (key: string): string | undefined => held.value.find((candidate) => candidate.key === key)?.digits;
/** The number that was touched last. */
export const chosen = signal<Handle | undefined>(undefined);
export const answer = signal<LiveAnswer | undefined>(undefined);
/** What stands beside the prose: the device itself, lines of what it does, its modes or its layers. */
export const picture = signal<"device" | "curves" | "modes" | "stack">("device");
/** The rails before the last change. */
export const ghost = signal<readonly Rail[] | undefined>(undefined);
/** What is being worked out and how far it is; undefined at rest. */
export const work = signal<{ readonly what: string; readonly part: number } | undefined>(undefined);
/** Why what was typed could not be, and why what is held has no answer. */
export const typedRefusal = signal<string | undefined>(undefined);
const answerRefusal = signal<string | undefined>(undefined);
export const refusal = computed(() => typedRefusal.value ?? answerRefusal.value);
/** What the program has to say, once: saved, opened, changed outside. */
export const news = signal("");
/** Both sides changed at once: theirs is what the file holds now. */
export const conflict = signal<{ readonly ours: string; readonly theirs: string; readonly tag: string } | undefined>(undefined);

export const isHolding = computed(() => held.value.length > 0);

/** Nothing is being worked out or waits for it. */
export const isAtRest = signal(true);

/** Readers of the page that are no people (tests, pictures) see from the document whether it is at rest. */
effect(() => {
  document.documentElement.dataset.work = isAtRest.value ? "none" : "some";
});

interface Lines {
  readonly frame: WorkerLine;
  readonly later: WorkerLine;
}

let lines: Lines | undefined;
let createWorker: (() => Worker) | undefined;
let store: ChipStore | undefined;
let tag = "";
let stopWatching: (() => void) | undefined;
/** Pause of the pointer after which the slow answers are asked for, [ms]. */
const pause = 60;
let pauseTimer: ReturnType<typeof setTimeout> | undefined;

function theLines(): Lines {
  if (lines === undefined) throw new Error("Cannot ask: the workers have not been started");
  return lines;
}

/** A line to one more worker. */
export function startLine(): WorkerLine {
  if (createWorker === undefined) throw new Error("Cannot start a worker: the page has not begun");
  return new WorkerLine(createWorker());
}

/** Asks the second worker about the picture; the numbers that are asked for go on. */
export const askAside = (request: (about: LiveQuestion) => Request): Promise<Reply> => theLines().later.ask(request(question()));

/** Asks about a text as it is being written, which is not kept. */
export const askAboutText = (request: Extract<Request, { kind: "complete" | "check" }>): Promise<Reply> =>
  theLines().frame.ask(request);

function question(): LiveQuestion {
  return { held: held.value, device: device.value, caseName: caseName.value, exaggeration: exaggeration.value };
}

/** Whether nothing has moved on since that was asked. */
const isNow = (asked: LiveQuestion): boolean => JSON.stringify(asked) === JSON.stringify(question());

const isAskable = (): boolean => device.value !== "" && caseName.value !== "";

function take(reply: Reply): void {
  if (reply.kind !== "found") return;
  if (reply.found.kind === "refused") {
    answerRefusal.value = reply.found.reason;
    return;
  }
  answerRefusal.value = undefined;
  const { answer: found } = reply.found;
  answer.value = { ...found, findings: found.findings ?? answer.value?.findings };
}

/** Done with its first answer, at the case in view: the next question need not wait for the other cases. */
const frames = new Newest<LiveQuestion>(
  (asked) =>
    new Promise((resolve) => {
      void theLines().frame.ask({ kind: "frame", question: asked }, (reply) => {
        take(reply);
        resolve();
      });
    }),
);

/** The device itself comes with the answers, its layers beside them; what else stands beside the prose is asked for. */
async function drawPicture(kind: typeof picture.value, asked: LiveQuestion): Promise<void> {
  if (kind === "curves" || kind === "modes") takePicture(await theLines().later.ask({ kind, question: asked }));
}

const laters = new Newest<LiveQuestion>(async (asked) => {
  await drawPicture(picture.value, asked);
  work.value = { what: "times, modes, light and doubt", part: 0 };
  const hear = (reply: Reply): void => {
    if (reply.kind !== "found") return;
    work.value = reply.part < 1 ? { what: "times, modes, light and doubt", part: reply.part } : undefined;
    // an answer to a number that has moved on would jump back
    if (isNow(asked)) take(reply);
  };
  const last = await theLines().later.ask({ kind: "later", question: asked }, hear);
  if (last.kind === "found" && last.doubts !== undefined) void theLines().frame.ask({ kind: "keep", doubts: last.doubts });
  work.value = undefined;
  if (isNow(asked)) isAtRest.value = true;
});

/** Asks for everything anew: at once what follows the pointer, after a pause the rest. */
export function refresh(): void {
  if (!isAskable()) return;
  isAtRest.value = false;
  frames.ask(question());
  clearTimeout(pauseTimer);
  pauseTimer = setTimeout(() => laters.ask(question()), pause);
}

/** Takes hold of a number, or of some at once, or moves them on. */
export function hold(...next: readonly Held[]): void {
  typedRefusal.value = undefined;
  held.value = next;
  refresh();
}

/** Lets go without keeping. */
export function letGo(): void {
  if (!isHolding.value) return;
  held.value = [];
  typedRefusal.value = undefined;
  refresh();
}

/** Keeps what is held: it goes into the text. */
export async function keepHeld(): Promise<void> {
  if (!isHolding.value) return;
  await write({ kind: "write", held: held.value });
  held.value = [];
}

/** Asks for the text with a change; answers whether it stands there now. */
export async function write(request: Request): Promise<boolean> {
  const reply = await theLines().frame.ask(request);
  if (reply.kind === "refused") {
    typedRefusal.value = reply.reason;
    held.value = [];
    refresh();
    return false;
  }
  if (reply.kind === "written") await change(reply.text, reply.sentence);
  return true;
}

/** One value of the text, by its path. */
export async function writeValue(path: readonly string[], value: string): Promise<void> {
  await write({ kind: "write value", path, value });
}

/** Puts another text in place: a change from here. */
export async function change(next: string, sentence: string): Promise<void> {
  if (next === text.value) return;
  typedRefusal.value = undefined;
  addChange({ before: text.value, after: next, sentence, from: "here" });
  await show(next);
  await save(next);
}

/** A whole text as typed, with the change in words. */
export async function changeText(next: string): Promise<void> {
  const reply = await theLines().frame.ask({ kind: "compare", before: text.value, after: next });
  await change(next, reply.kind === "compared" ? reply.sentence : "the text");
}

/** Goes along the chain of changes: to the text that a step leads to, with the change in words. */
async function goTo(next: string | undefined, words: string): Promise<void> {
  if (next === undefined) return;
  news.value = words;
  await show(next);
  await save(next);
}

export function takeBack(): Promise<void> {
  const words = `Taken back: ${lastChange.value?.sentence ?? ""}`;
  return goTo(stepBack(), words);
}

export function doAgain(): Promise<void> {
  const words = `Done again: ${nextChange.value?.sentence ?? ""}`;
  return goTo(stepForward(), words);
}

/** Shows a text: reads it in both workers; one with problems stays in view with its problems, the last good answer stands. */
async function show(next: string): Promise<void> {
  text.value = next;
  const before = answer.value?.rails;
  const [reply] = await Promise.all([
    theLines().frame.ask({ kind: "open", text: next }),
    theLines().later.ask({ kind: "open", text: next }),
  ]);
  if (reply.kind !== "opened") return;
  if (reply.opened.kind === "problems") {
    problems.value = reply.opened.problems;
    return;
  }
  problems.value = [];
  if (before !== undefined) ghost.value = before;
  const { summary: found } = reply.opened;
  summary.value = found;
  if (!found.devices.includes(device.value)) device.value = found.devices[0] ?? "";
  if (!found.cases.some(({ name }) => name === caseName.value)) caseName.value = found.cases[0]?.name ?? "";
  refresh();
}

let lastSave: Promise<void> = Promise.resolve();

/** Saves one after the other: each is made from the state that the one before has left. */
function save(next: string): Promise<void> {
  lastSave = lastSave.then(() => saveNow(next));
  return lastSave;
}

async function saveNow(next: string): Promise<void> {
  // of several that wait, only the newest need be written; while a choice is open nothing is
  if (store === undefined || folder.value === undefined || next !== text.value || conflict.value !== undefined) return;
  const outcome = await store.save(folder.value.id, { text: next, tag });
  if (outcome.outcome === "saved") {
    tag = outcome.tag;
  } else if (outcome.outcome === "failed") news.value = outcome.reason;
  else conflict.value = { ours: next, theirs: outcome.text, tag: outcome.tag };
}

/** Settles a change on both sides. What is not taken stays in the chain of changes and can be brought back. */
export async function settle(choice: "ours" | "theirs"): Promise<void> {
  const open = conflict.value;
  if (open === undefined) return;
  conflict.value = undefined;
  tag = open.tag;
  if (choice === "ours") {
    addChange({ before: open.theirs, after: open.ours, sentence: "Kept what was changed here", from: "here" });
    await save(open.ours);
  } else {
    addChange({ before: open.ours, after: open.theirs, sentence: "Took what was changed outside", from: "outside" });
    await show(open.theirs);
  }
}

/** The watch tells of own saves too, and late: what stands there now decides, and is read only where it may be another. */
async function changedOutside(told: { readonly tag: string }): Promise<void> {
  if (store === undefined || folder.value === undefined) return;
  await lastSave;
  if (told.tag === tag) return;
  const state = await store.read(folder.value.id).catch(() => undefined);
  await lastSave;
  if (state === undefined || state.tag === tag) return;
  if (conflict.value !== undefined) {
    conflict.value = { ...conflict.value, theirs: state.text, tag: state.tag };
    return;
  }
  if (state.text === text.value) {
    tag = state.tag;
    return;
  }
  const reply = await theLines().frame.ask({ kind: "compare", before: text.value, after: state.text });
  const sentence = reply.kind === "compared" ? reply.sentence : "the text";
  addChange({ before: text.value, after: state.text, sentence, from: "outside" });
  news.value = `Changed outside: ${sentence}`;
  tag = state.tag;
  held.value = [];
  await show(state.text);
}

/** Opens a folder of the store. */
export async function openFolder(entry: FolderEntry): Promise<void> {
  if (store === undefined) return;
  stopWatching?.();
  forgetChanges();
  ghost.value = undefined;
  answer.value = undefined;
  summary.value = undefined;
  chosen.value = undefined;
  folder.value = entry;
  const state = await store.read(entry.id);
  tag = state.tag;
  await show(state.text);
  stopWatching = store.watch(entry.id, (told) => void changedOutside(told));
}

/** Starts the workers and shows the first folder. */
export async function start(options: { readonly store: ChipStore; readonly createWorker: () => Worker }): Promise<void> {
  store = options.store;
  storeKind.value = store.kind;
  createWorker = options.createWorker;
  lines = { frame: startLine(), later: startLine() };
  folders.value = await store.list();
  const [first] = folders.value;
  if (first !== undefined) await openFolder(first);
}

/** Opens a second folder, or makes a new chip, by its path. Throws with a sentence where that cannot be. */
export async function openPath(path: string, create?: string): Promise<void> {
  if (store === undefined) return;
  const entry = create === undefined ? await store.open(path) : await store.create(path, create);
  folders.value = await store.list();
  await openFolder(entry);
}

/** The device in view as an SVG text; throws with a sentence where there is none. */
export async function pictureOfDevice(tokens: Tokens, isolines: boolean): Promise<string> {
  const reply = await theLines().frame.ask({ kind: "picture", question: question(), tokens, isolines });
  if (reply.kind === "pictured") return reply.svg;
  throw new Error(reply.kind === "refused" ? reply.reason : "Cannot draw the device: the worker answered something else");
}

/** Shows the device or its lines beside the prose. */
export function showPicture(next: typeof picture.value): void {
  picture.value = next;
  refresh();
}

/** Looks at another case or device. */
export function lookAt(next: { readonly caseName?: string; readonly device?: string; readonly exaggeration?: number }): void {
  if (next.caseName !== undefined) caseName.value = next.caseName;
  if (next.device !== undefined) device.value = next.device;
  if (next.exaggeration !== undefined) exaggeration.value = next.exaggeration;
  refresh();
}
