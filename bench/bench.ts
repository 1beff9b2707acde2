/** What a bench file gives: `export const benches: readonly Bench[]` in `bench/<subject>.bench.ts`, and `studies` where times are compared. */
export interface Bench {
  /** What is timed, with its size, for example "sparse Cholesky, plate of 10 000 unknowns". */
  readonly name: string;
  /** The timed work. Inputs are prepared outside of it. */
  readonly run: () => unknown;
}

/** Several times that say something together: how a cost grows, or what one piece of work costs in units of another. */
export interface Study {
  readonly name: string;
  /** What is found, in one line. `median` times one piece of work [ms]. */
  readonly find: (median: (bench: Bench) => Promise<number>) => Promise<string>;
}
