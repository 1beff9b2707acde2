/** What a bench file gives: `export const benches: readonly Bench[]` in `bench/<subject>.bench.ts`. */
export interface Bench {
  /** What is timed, with its size, for example "sparse Cholesky, plate of 10 000 unknowns". */
  readonly name: string;
  /** The timed work. Inputs are prepared outside of it. */
  readonly run: () => unknown;
}
