/** Round tick values. Main test: ticks.test.ts. */

/** Steps of 1, 2, 2.5 or 5 times a power of ten within a range, at most five of them, at least two where the range is not empty. */
export function niceTicks(low: number, high: number): number[] {
  if (!(high > low)) return [low];
  const power = 10 ** Math.floor(Math.log10((high - low) / 4));
  const within = (step: number): number[] => {
    const first = Math.ceil(low / step - 1e-9);
    const last = Math.floor(high / step + 1e-9);
    return Array.from({ length: last - first + 1 }, (_, k) => Number(((first + k) * step).toPrecision(12)) + 0);
  };
  const found = [1, 2, 2.5, 5, 10].map((factor) => within(factor * power)).find((ticks) => ticks.length <= 5);
  return found ?? [low];
}

/** All ticks with the decimals that tell neighbours apart, and no more; a true minus sign for what is negative. */
export function tickTexts(ticks: readonly number[]): readonly string[] {
  const decimals = Math.max(0, ...ticks.map((tick) => (String(tick).split(".")[1] ?? "").length));
  const tooLong = ticks.some((tick) => Math.abs(tick) >= 1e6 || (tick !== 0 && Math.abs(tick) < 1e-4));
  return ticks.map((tick) => (tooLong ? String(tick) : tick.toFixed(decimals)).replace("-", "\u2212"));
}
