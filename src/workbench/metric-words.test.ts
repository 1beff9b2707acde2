import { expect, test } from "vitest";
import { evaluateExpression, parsePhrase, sameDimension } from "#base";
import { dimensionOf, findMetric } from "#chip";
import { metricWordsOf } from "./metric-words.ts";

test("the unit offered with a metric is one of its own kind, and only plain numbers have none", () => {
  for (const { word, unit } of metricWordsOf()) {
    const { dimension } = evaluateExpression(parsePhrase(`1 ${unit}`).value, () => {
      throw new Error("no name expected");
    });
    expect(sameDimension(dimension, dimensionOf(findMetric(word)!)), word).toBe(true);
  }
});
