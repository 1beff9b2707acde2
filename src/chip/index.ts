import { chipFields } from "./description.ts";
import { type JsonSchema, jsonSchemaOf } from "./text/json-schema.ts";

export type { Need } from "./brief/need.ts";
export type { LimitOf, Requirement } from "./brief/requirements.ts";
export type { Description } from "./description.ts";
export { pathKey } from "./evaluate/addresses.ts";
export type { Cause, Side } from "./evaluate/scope.ts";
export type { ChanceWord } from "./ledger/chance.ts";
export { firstOrderChance, wordForChance } from "./ledger/chance.ts";
export type { Ledger, LedgerLimit, LedgerOptions, LedgerRow, Measurement, Prediction, RowChance } from "./ledger/ledger.ts";
export { buildLedger } from "./ledger/ledger.ts";
export { dimensionOf } from "./metrics/dimension-of-metric.ts";
export type { Metric } from "./metrics/vocabulary.table.ts";
export { findMetric, metrics, noModel } from "./metrics/vocabulary.table.ts";
export type { DeviceDrawingRequest } from "./pictures/device.ts";
export { drawDevice } from "./pictures/device.ts";
export type { DiePlates, Plate } from "./plates/die-plates.ts";
export { buildPlates } from "./plates/die-plates.ts";
export type { Chip, Override } from "./predict/chip.ts";
export { openChip } from "./predict/chip.ts";
export type { Estimate, Progress } from "./predict/estimate.ts";
export { Cancelled, estimateSide } from "./predict/estimate.ts";
export type { MetricAt } from "./predict/metric-request.ts";
export { metricRequest } from "./predict/metric-request.ts";
export { predictionForm, predictionToJson, predictionVersion } from "./predict/prediction-json.ts";
export type { MetricRequest } from "./predict/side-model.ts";
export type { Sweep, SweepRequest } from "./predict/sweep.ts";
export { runSweep } from "./predict/sweep.ts";
export type { Trace, TraceColumn, TraceRequest } from "./predict/trace.ts";
export { traceCase, traceColumns } from "./predict/trace.ts";
export { replaceValue } from "./text/edit.ts";
export type { JsonSchema } from "./text/json-schema.ts";
export { currentVersion } from "./text/migrate.ts";

/** JSON Schema (draft 2020-12) of a chip text. */
export function chipSchema(): JsonSchema {
  return jsonSchemaOf(chipFields, "Waferwright chip text");
}
