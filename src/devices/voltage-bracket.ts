/** Two voltages between which a travel passes the wanted one. */

export interface Bracket {
  readonly low: number;
  readonly high: number;
  /** Travel short of (below zero) or beyond what is wanted, at both ends. */
  readonly fLow: number;
  readonly fHigh: number;
}

/** Searches about a guess where there is one, by doubling from 1 V otherwise. */
export function bracketVoltage(
  travelAt: (voltage: number) => number,
  at: { readonly travel: number; readonly highest: number; readonly guess: number | undefined },
): Bracket | { readonly reason: string } {
  const { travel, highest, guess } = at;
  if (guess !== undefined && Number.isFinite(guess)) {
    // a neighbour's answer is mostly within a few per cent
    for (const reach of [0.025, 0.1]) {
      const low = guess * (1 - reach);
      const high = Math.min(highest, guess * (1 + reach));
      const [fLow, fHigh] = [travelAt(low) - travel, travelAt(high) - travel];
      if (fLow < 0 && fHigh > 0) return { low, high, fLow, fHigh };
    }
  }
  let low = 0;
  let fLow = -travel;
  let high = Math.min(1, highest);
  for (;;) {
    const fHigh = travelAt(high) - travel;
    if (!Number.isFinite(fHigh)) return { reason: `there is no steady state at ${high} V` };
    if (fHigh >= 0) return { low, high, fLow, fHigh };
    if (high >= highest) return { reason: `the travel stays below it up to ${highest} V` };
    low = high;
    fLow = fHigh;
    high = Math.min(highest, 2 * high);
  }
}
