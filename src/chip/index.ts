import { chipFields } from "./description.ts";
import { type JsonSchema, jsonSchemaOf } from "./text/json-schema.ts";

export { contradictionsOf } from "./brief/contradictions.ts";
export { type BriefEdit, editBrief, type RequirementWords } from "./brief/edit-brief.ts";
export { type Fence, fencesOf, type Need } from "./brief/need.ts";
export type { LimitOf, Requirement } from "./brief/requirements.ts";
export { completeText } from "./complete/complete.ts";
export type { Completion, Offer } from "./complete/offer.ts";
export type { Description } from "./description.ts";
export { pathKey } from "./evaluate/addresses.ts";
export type { Cause, Side } from "./evaluate/scope.ts";
export { EvaluationError } from "./evaluate/scope.ts";
export type { AimedChange } from "./explain/aims.ts";
export { type ExplainedHop, type ExplainOptions, type Explanation, explain } from "./explain/explain.ts";
export { type ExplanationWords, explanationWords } from "./explain/explanation-words.ts";
export type { Mover } from "./explain/movers.ts";
export type { ChanceWord } from "./ledger/chance.ts";
export { firstOrderChance, LinearSamples, wordForChance } from "./ledger/chance.ts";
export type {
  Ledger,
  LedgerLimit,
  LedgerOptions,
  LedgerQuestions,
  LedgerRow,
  Measurement,
  Prediction,
  RowChance,
  SideWork,
} from "./ledger/ledger.ts";
export { assembleLedger, buildLedger, questionsOf, requestOf } from "./ledger/ledger.ts";
export { limitWords, railOf, railRows } from "./ledger/rail-rows.ts";
export { dimensionOf } from "./metrics/dimension-of-metric.ts";
export { subjectWords } from "./metrics/subject-words.ts";
export type { Metric } from "./metrics/vocabulary.table.ts";
export { findMetric, metrics, noModel, signWords } from "./metrics/vocabulary.table.ts";
export type { DeviceDrawingRequest } from "./pictures/device.ts";
export { drawDevice } from "./pictures/device.ts";
export type { DeviceLayers, Outlines } from "./pictures/layers.ts";
export { layersOf } from "./pictures/layers.ts";
export type { DiePlates, Plate } from "./plates/die-plates.ts";
export { buildPlates } from "./plates/die-plates.ts";
export type { Chip, Override } from "./predict/chip.ts";
export { openChip } from "./predict/chip.ts";
export type { Estimate, EstimatePiece, Progress, SideEstimates } from "./predict/estimate.ts";
export { Cancelled, estimateInPieces, estimateSide } from "./predict/estimate.ts";
export type { MetricAt } from "./predict/metric-request.ts";
export { metricRequest } from "./predict/metric-request.ts";
export { predictionForm, predictionToJson, predictionVersion } from "./predict/prediction-json.ts";
export type { MetricRequest } from "./predict/side-model.ts";
export type { Sweep, SweepRequest } from "./predict/sweep.ts";
export { runSweep } from "./predict/sweep.ts";
export type { Trace, TraceColumn, TraceRequest } from "./predict/trace.ts";
export { traceCase, traceColumns } from "./predict/trace.ts";
export { caseProse } from "./prose/case-prose.ts";
export { type Handle, handleOf, numberFrom, phraseWithNumber, type WorkedOut } from "./prose/handle.ts";
export { type Paragraph, type ProseWord, proseOf } from "./prose/prose.ts";
export type { StageName } from "./sections/term.ts";
export type { Adopted, DesignValue } from "./size/adopt.ts";
export { adoptDesign, numberOfPhrase } from "./size/adopt.ts";
export type { AllHold } from "./size/all-hold.ts";
export { allHold } from "./size/all-hold.ts";
export type { Aim, BestDesign, BestLimit, BestOptions, Front } from "./size/best-design.ts";
export { bestInSteps, frontInSteps } from "./size/best-design.ts";
export type { AskDesign, DesignAnswer, DesignQuestion, RegionRequest } from "./size/design-questions.ts";
export { createDesignSolver } from "./size/design-questions.ts";
export type { Axis, RangeOf, SizeLimit } from "./size/design-space.ts";
export type { RegionEdge } from "./size/edges.ts";
export type { StopSignal } from "./size/lanes.ts";
export type { ChanceContour, Region, RegionAxis, RegionDesign, RegionLimit } from "./size/region.ts";
export { boundsFreeGround, chanceAt, isFreeAt } from "./size/region.ts";
export { regionParts, regionPicture, regionTable } from "./size/region-picture.ts";
export type { RegionStage, RegionStep, RegionWork } from "./size/region-steps.ts";
export { regionInSteps } from "./size/region-steps.ts";
export { groundSentences, inHundred, partWhere, regionSentences, surenessSentences } from "./size/region-words.ts";
export { type SizeChoice, sizeChoicesInSteps } from "./size/size-choices.ts";
export type { StudyStep } from "./size/study-step.ts";
export { relaxationWords, sensitivityTable, type TradeWords, tradeWords } from "./size/trade-words.ts";
export type { LimitChange, Relaxation, Sensitivity, Trade, TradedLimit, TradeOptions, Trades } from "./size/trades.ts";
export { tradesInSteps } from "./size/trades.ts";
export { type Term, type TermStage, usualTerm, weekOf } from "./term/term.ts";
export { chipFileName, largestChipText } from "./text/chip-file.ts";
export { describeDifference } from "./text/difference.ts";
export { replaceValue } from "./text/edit.ts";
export { addEntry, removeEntry, renameEntry } from "./text/entries.ts";
export type { JsonSchema } from "./text/json-schema.ts";
export { currentVersion } from "./text/migrate.ts";
export { newChipText, titleOfChipText } from "./text/new-text.ts";
export type { EntryValue } from "./text/write-value.ts";

/** JSON Schema (draft 2020-12) of a chip text. */
export function chipSchema(): JsonSchema {
  return jsonSchemaOf(chipFields, "Waferwright chip text");
}
