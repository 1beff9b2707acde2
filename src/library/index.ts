/** The program as a library: one import, no global state. */
export type { Finding } from "#base";
export { formatQuantity, InputError } from "#base";
export type { Chip, DiePlates, Ledger, LedgerLimit, LedgerRow, Metric, MetricRequest, Override, Sweep } from "#chip";
export {
  buildLedger,
  buildPlates,
  chipSchema,
  dimensionOf,
  metricRequest,
  metrics,
  openChip,
  predictionToJson,
  replaceValue,
  runSweep,
} from "#chip";
export { formatGdsii, parseGdsii } from "#mask";
export { readChipText, saveChipText } from "#node";
