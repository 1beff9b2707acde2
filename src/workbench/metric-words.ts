/** The vocabulary of metrics as the page offers it when a requirement is written. Main test: metric-words.test.ts. */
import type { DimensionName } from "#base";
import { metrics } from "#chip";
import type { MetricWord } from "./messages.ts";

/** Units in which limits of small devices are written; common practice, no source. What is left out is a plain number. */
const units: { readonly [name in DimensionName]?: string } = {
  length: "um",
  current: "mA",
  voltage: "V",
  power: "mW",
  temperature: "K",
  pressure: "MPa",
  resistance: "ohm",
  stiffness: "N/m",
  force: "mN",
  time: "ms",
  frequency: "kHz",
  energy: "mJ",
  angle: "mrad",
  acceleration: "gn",
  "damping coefficient": "N s/m",
};

/** Every metric that a model computes, by its word. */
export function metricWordsOf(): readonly MetricWord[] {
  return metrics
    .filter(({ computed }) => computed)
    .map(({ word, about, stands, where, needs, dimension }) => ({
      word,
      about,
      hasCase: stands === "case",
      where,
      needs: needs?.about,
      unit: units[dimension] ?? "",
    }))
    .sort((a, b) => (a.word < b.word ? -1 : 1));
}
