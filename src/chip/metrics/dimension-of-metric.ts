/** What kind of quantity a metric is. */
import { type Dimension, dimensionNamed } from "#base";
import type { Metric } from "./vocabulary.table.ts";

export function dimensionOf(metric: Metric): Dimension {
  return dimensionNamed(metric.dimension);
}
