export type { Amount, Sensitivities, TemperatureKind } from "./amount.ts";
export { covariance, describeAmount, exactAmount, pureNumber, standardDeviation, withCause } from "./amount.ts";
export { csvCell, csvOf } from "./csv.ts";
export type { Dimension, DimensionName } from "./dimension.ts";
export { baseUnitText, describeDimension, dimensionless, dimensionNamed, sameDimension, siUnitText } from "./dimension.ts";
export type { Place, TextProblem } from "./errors.ts";
export { DimensionError, errorAbout, InputError, SolveError } from "./errors.ts";
export type { Expression } from "./expression.ts";
export { evaluateExpression, functionNames, namesIn, parseExpression } from "./expression.ts";
export { ExpressionError } from "./expression-error.ts";
export type { Finding, Severity } from "./finding.ts";
export type { FormatOptions } from "./format.ts";
export { displayScale, formatNumber, formatQuantity, prettyUnits } from "./format.ts";
export type { Consulted, ExpansionLaw, Law, Source } from "./law.ts";
export { nearestName } from "./nearest.ts";
export { normalChanceBelow, normalQuantile } from "./normal-distribution.ts";
export type { EvidenceKind, Phrase, PhraseSpread, Scope } from "./phrase.ts";
export { parsePhrase, plainAmount, readsAsName } from "./phrase.ts";
export type { RandomSource } from "./random.ts";
export { createRandomSource, latinHypercube } from "./random.ts";
export type {
  ChoiceShape,
  EitherShape,
  Field,
  Fields,
  LawShape,
  LawText,
  ListShape,
  MapShape,
  QuantityShape,
  QuantityText,
  RangeText,
  ReadOf,
  ReadRecord,
  RecordShape,
  Shape,
  TaggedShape,
  TaggedText,
  TaggedValue,
  TextShape,
  ValueOf,
  ValueRecord,
  WholeShape,
} from "./shape.ts";
export { choice, either, law, list, mapOf, quantity, record, text, whole } from "./shape.ts";
export { unitSymbols } from "./unit.table.ts";
export type { Unit } from "./unit.ts";
export { findUnitSymbol, parseUnit, UnitError } from "./unit.ts";
