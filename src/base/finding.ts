/**
 * A finding: a problem of the user's design, process or measurement, told as a value.
 * Every face of the program shows the same list.
 */

export type Severity = "note" | "warning" | "error";

export interface Finding {
  /** Stable short code, lower case with hyphens, for example "outside-law-range". */
  readonly code: string;
  readonly severity: Severity;
  /** What it concerns, in the words of the chip text, for example "drive, case hold". */
  readonly where: string;
  /** One or two plain sentences: what is the matter, and what to do. */
  readonly message: string;
  /** Measured value and limit in SI, where there are such numbers. */
  readonly measured?: number;
  readonly limit?: number;
  /** SI unit of `measured` and `limit`. */
  readonly unit?: string;
  /** Published source or rule behind the limit. */
  readonly source?: string;
}
