/** When an observed number of a transient reaches a level. Main test: transient.test.ts. */
import type { TransientHistory } from "./transient-history.ts";

/**
 * First time [s] at which an observed number reaches `level`, by cubic interpolation with the recorded rates; undefined if it never does.
 */
export function timeToReach(history: TransientHistory, observer: number, level: number): number | undefined {
  const { times } = history;
  const values = history.observed[observer]!;
  const slopes = history.rates[observer]!;
  for (let i = 1; i < times.length; i++) {
    const before = values[i - 1]! - level;
    const after = values[i]! - level;
    if (before === 0) return times[i - 1]!;
    if (before * after > 0) continue;
    const h = times[i]! - times[i - 1]!;
    const at = (s: number): number =>
      before * (1 + 2 * s) * (1 - s) ** 2 +
      after * s * s * (3 - 2 * s) +
      h * (slopes[i - 1]! * s * (1 - s) ** 2 - slopes[i]! * s * s * (1 - s));
    let low = 0;
    let high = 1;
    for (let k = 0; k < 60; k++) {
      const middle = 0.5 * (low + high);
      if (at(middle) * before > 0) low = middle;
      else high = middle;
    }
    return times[i - 1]! + 0.5 * (low + high) * h;
  }
  return undefined;
}
