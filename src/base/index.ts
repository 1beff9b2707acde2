export type { Place, TextProblem } from "./errors.ts";
export { DimensionError, InputError, SolveError } from "./errors.ts";
export type { Finding, Severity } from "./finding.ts";
export type { Consulted, ExpansionLaw, Law, Source } from "./law.ts";
