/**
 * The pad voltage at which a steady travel is reached.
 *
 * Travel grows nearly with the square of the voltage, so the secant is drawn over the square; a bracket is kept, and where the secant
 * leaves it the bracket is halved.
 */

export interface TravelSearch {
  /** [m] */
  readonly travel: number;
  /** Highest voltage that may be tried, [V]. */
  readonly highest: number;
  /** A neighbour's answer, [V]. */
  readonly guess: number | undefined;
}

/** First voltage tried where nothing is known, [V]. */
const firstVoltage = 4;
/** Accuracy of the travel, as a part of it. */
const tolerance = 1e-9;

/** `travelAt` gives NaN where no state is told. */
export function findVoltageForTravel(
  travelAt: (voltage: number) => number,
  search: TravelSearch,
): { readonly value: number } | { readonly reason: string } {
  const { travel, highest } = search;
  const top = highest * highest;
  // squares of voltages: below `low` the travel is too short, above `high` too long or there is none
  let [low, high] = [0, Number.POSITIVE_INFINITY];
  let before = { square: 0, short: -travel };
  let square = Math.min(top, (search.guess ?? firstVoltage) ** 2);
  let lost = Number.NaN;
  for (let i = 0; i < 80; i++) {
    const short = travelAt(Math.sqrt(square)) - travel;
    if (Math.abs(short) < tolerance * travel) return { value: Math.sqrt(square) };
    if (!Number.isFinite(short)) lost = Math.sqrt(square);
    if (short < 0) {
      low = square;
      if (square >= top) return { reason: `the travel stays below it up to ${highest} V` };
    } else high = square;
    let next = square - (short * (square - before.square)) / (short - before.short);
    if (!Number.isFinite(next) || next <= low || next >= high)
      next = high === Number.POSITIVE_INFINITY ? Math.min(top, 4 * square) : (low + high) / 2;
    if (high - low < 1e-12 * high)
      return Number.isFinite(short)
        ? { value: Math.sqrt(square) }
        : {
            reason: `nothing is told at ${lost.toPrecision(4)} V: no steady state, or hotter than what is known of the material`,
          };
    if (Number.isFinite(short)) before = { square, short };
    square = Math.min(top, next);
  }
  return { reason: "the travel jumps past it" };
}
