export type { Curve, CurveAxis, CurvePlot } from "./curves.ts";
export type { BeamEnd, EndNumber } from "./ends.ts";
export { followsPointer } from "./frame-metrics.ts";
export type { Answer, LiveAnswer } from "./live-chip.ts";
export { LiveChip } from "./live-chip.ts";
export type {
  BriefEntry,
  BriefWords,
  CaseSummary,
  ChipSummary,
  Found,
  MetricWord,
  Opened,
  Reply,
  Request,
  WhyWords,
} from "./messages.ts";
export type { Held, LiveQuestion } from "./question.ts";
export type { Rail } from "./rails.ts";
export { Session } from "./session.ts";
export type { StudyReply, StudyRequest } from "./study.ts";
