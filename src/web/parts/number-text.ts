/** How a held number is written: steps of its last digit, units as people read them. Main test: number-text.test.ts. */
import { prettyUnits } from "#base";
import { numberFrom } from "#chip";

/** "µm" for "um"; a unit that has no prettier form stays. */
export function prettyUnit(unit: string): string {
  return unit === "deg" ? "°" : prettyUnits(unit);
}

/** A number moved by whole steps of its last decimal. */
export function stepped(
  digits: string,
  by: { readonly steps: number; readonly decimals: number; readonly whole: boolean },
): string {
  const value = numberFrom(digits);
  const decimals = by.whole ? 0 : by.decimals;
  const next = value + by.steps * 10 ** -decimals;
  return Math.abs(next) < 0.5 * 10 ** -decimals ? (0).toFixed(decimals) : next.toFixed(decimals);
}
