/**
 * The kinds of failure that a caller may want to catch.
 * A programmer's mistake is a TypeError or RangeError; a problem of the design is a Finding.
 */

/** Place in a text file, both counted from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** One thing wrong with a text that a person wrote: a sentence and its place. */
export interface TextProblem {
  readonly place: Place;
  readonly message: string;
}

/** Text that cannot be understood. Carries every problem found, first one first. */
export class InputError extends Error {
  override readonly name = "InputError";
  readonly problems: readonly TextProblem[];

  constructor(problems: readonly TextProblem[]) {
    super(problems.map((p) => `${p.place.file}:${p.place.line}:${p.place.column}: ${p.message}`).join("\n"));
    this.problems = problems;
  }
}

/** An error about a file, a folder or an option as a whole. */
export function errorAbout(file: string, message: string): InputError {
  return new InputError([{ place: { file, line: 1, column: 1 }, message }]);
}

/** Physical units that do not fit together. */
export class DimensionError extends TypeError {
  override readonly name = "DimensionError";
}

/** A numerical method that did not reach its target. Never a quiet wrong result. */
export class SolveError extends Error {
  override readonly name = "SolveError";
  readonly method: string;
  readonly iterations: number;
  readonly residual: number;
  readonly target: number;
  readonly hint: string;

  constructor(message: string, detail: { method: string; iterations: number; residual: number; target: number; hint: string }) {
    super(message);
    this.method = detail.method;
    this.iterations = detail.iterations;
    this.residual = detail.residual;
    this.target = detail.target;
    this.hint = detail.hint;
  }
}
