/** The program as a library: one import, no global state. */
export type { Finding } from "#base";
export { formatQuantity, InputError } from "#base";
export type {
  Chip,
  DesignValue,
  DeviceDrawingRequest,
  DiePlates,
  Ledger,
  LedgerLimit,
  LedgerRow,
  Metric,
  MetricAt,
  MetricRequest,
  Override,
  RangeOf,
  Region,
  RegionDesign,
  RegionLimit,
  RegionRequest,
  RegionStep,
  RegionWork,
  Sweep,
  Trace,
  TraceColumn,
  TraceRequest,
} from "#chip";
export {
  adoptDesign,
  buildLedger,
  buildPlates,
  Cancelled,
  chipSchema,
  createDesignSolver,
  dimensionOf,
  drawDevice,
  metricRequest,
  metrics,
  openChip,
  predictionToJson,
  regionInSteps,
  replaceValue,
  runSweep,
  traceCase,
  traceColumns,
} from "#chip";
export { formatGdsii, parseGdsii } from "#mask";
export { readChipText, saveChipText } from "#node";
export type { Tokens } from "#picture";
export { amber, night, paper } from "#picture";
