/** What the page and its workers say to each other; plain data, as structured clones. */
import type { Finding, TextProblem } from "#base";
import type {
  BriefEdit,
  Completion,
  DeviceLayers,
  EntryValue,
  ExplanationWords,
  Paragraph,
  ProseWord,
  RequirementWords,
  Term,
} from "#chip";
import type { ModeView } from "#devices";
import type { Tokens } from "#picture";
import type { CurvePlot } from "./curves.ts";
import type { BeamEnd } from "./ends.ts";
import type { Doubts, LiveAnswer } from "./live-chip.ts";
import type { Held, LiveQuestion } from "./question.ts";
import type { StudyReply, StudyRequest } from "./study.ts";

/** One case as the page offers it. */
export interface CaseSummary {
  readonly name: string;
  /** What drives it, with its numbers; empty where nothing does. */
  readonly words: readonly ProseWord[];
}

/** What stands in a text, once it reads well. */
export interface ChipSummary {
  readonly title: string;
  readonly note: string | undefined;
  readonly paragraphs: readonly Paragraph[];
  readonly cases: readonly CaseSummary[];
  readonly devices: readonly string[];
  readonly term: Term;
  readonly brief: readonly BriefEntry[];
  /** Every operating case, those that run in time among them. */
  readonly caseNames: readonly string[];
  /** Requirements that cannot all hold, and limits that say nothing. */
  readonly contradictions: readonly Finding[];
}

/** Words of a requirement or of one of its limits, as they are written. */
export type BriefWords = RequirementWords;

/** A requirement as it stands in the text. */
export interface BriefEntry extends BriefWords {
  readonly name: string;
  readonly limits?: readonly BriefWords[];
}

/** An explanation in words, with each change as its number would be written. */
export interface WhyWords extends ExplanationWords {
  readonly changes: readonly (ExplanationWords["changes"][number] & { readonly digits: string })[];
}

/** A metric as the page offers it for a requirement. */
export interface MetricWord {
  readonly word: string;
  readonly about: string;
  readonly hasCase: boolean;
  /** What must be named under "where", and what stands under "for". */
  readonly where: string | undefined;
  readonly needs: string | undefined;
  /** A unit that fits, for the first limit of it. */
  readonly unit: string;
}

export type Opened =
  | { readonly kind: "open"; readonly summary: ChipSummary }
  | { readonly kind: "problems"; readonly problems: readonly TextProblem[] };

export type Request =
  | { readonly kind: "open"; readonly text: string }
  | { readonly kind: "frame"; readonly question: LiveQuestion }
  | { readonly kind: "later"; readonly question: LiveQuestion }
  | { readonly kind: "curves"; readonly question: LiveQuestion }
  | { readonly kind: "picture"; readonly question: LiveQuestion; readonly tokens: Tokens; readonly isolines: boolean }
  | { readonly kind: "keep"; readonly doubts: Doubts }
  | { readonly kind: "layers"; readonly question: LiveQuestion }
  | { readonly kind: "modes"; readonly question: LiveQuestion }
  | { readonly kind: "ends"; readonly question: LiveQuestion }
  | { readonly kind: "write"; readonly held: readonly Held[] }
  | { readonly kind: "write value"; readonly path: readonly string[]; readonly value: string }
  /** An entry more at a path: named by its key, or the last of a list. */
  | { readonly kind: "add entry"; readonly path: readonly string[]; readonly key?: string; readonly value: EntryValue }
  | { readonly kind: "remove entry"; readonly path: readonly string[] }
  | { readonly kind: "rename entry"; readonly path: readonly string[]; readonly name: string }
  | { readonly kind: "edit brief"; readonly edit: BriefEdit }
  | { readonly kind: "vocabulary" }
  /** What may be written at a caret of a text that is not kept. */
  | { readonly kind: "complete"; readonly text: string; readonly offset: number }
  /** What is wrong with a text that is not kept. */
  | { readonly kind: "check"; readonly text: string }
  /** Why the number of a limit is what it is. */
  | { readonly kind: "why"; readonly question: LiveQuestion; readonly requirement: number; readonly limitIndex: number }
  | { readonly kind: "compare"; readonly before: string; readonly after: string }
  /** Whether two texts differ in the numbers of some quantities alone. */
  | { readonly kind: "same but for"; readonly before: string; readonly after: string; readonly keys: readonly string[] }
  | { readonly kind: "study"; readonly study: StudyRequest };

/** Answer to a frame or a later question: what was found, or why it cannot be. */
export type Found =
  | { readonly kind: "answer"; readonly answer: LiveAnswer }
  | { readonly kind: "refused"; readonly reason: string };

export type Reply =
  | { readonly kind: "opened"; readonly opened: Opened }
  | { readonly kind: "found"; readonly found: Found; readonly part: number; readonly doubts?: Doubts }
  | { readonly kind: "drawn"; readonly plots: readonly CurvePlot[] }
  | { readonly kind: "pictured"; readonly svg: string }
  | { readonly kind: "swung"; readonly modes: readonly ModeView[] }
  | { readonly kind: "layered"; readonly layers: DeviceLayers }
  | { readonly kind: "grasped"; readonly ends: readonly BeamEnd[] }
  | { readonly kind: "kept" }
  | { readonly kind: "written"; readonly text: string; readonly sentence: string }
  | { readonly kind: "explained"; readonly words: WhyWords }
  | { readonly kind: "vocabulary"; readonly metrics: readonly MetricWord[] }
  | { readonly kind: "completed"; readonly completion: Completion | undefined }
  | { readonly kind: "checked"; readonly problems: readonly TextProblem[] }
  | { readonly kind: "compared"; readonly sentence: string }
  | { readonly kind: "same but for"; readonly same: boolean }
  | { readonly kind: "study"; readonly study: StudyReply }
  | { readonly kind: "refused"; readonly reason: string }
  /** A newer question came before this one was done. */
  | { readonly kind: "overtaken" };
