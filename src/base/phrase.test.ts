import { describe, expect, it } from "vitest";
import { evaluateExpression } from "./expression.ts";
import { ExpressionError } from "./expression-error.ts";
import { type Phrase, parsePhrase, readsAsName } from "./phrase.ts";

function refusal(text: string): ExpressionError {
  try {
    parsePhrase(text);
  } catch (error) {
    if (error instanceof ExpressionError) return error;
    throw error;
  }
  throw new Error(`"${text}" was read`);
}

const numberOf = (expression: Phrase["value"]): number =>
  evaluateExpression(expression, (name, at) => {
    throw new ExpressionError(`nothing is called "${name}"`, at);
  }).value;

/** What a phrase says, with its numbers in SI. */
function said(text: string): Record<string, unknown> {
  const { value, spread, ...rest } = parsePhrase(text);
  return { value: numberOf(value), ...(spread && { spread: [spread.kind, numberOf(spread.amount), spread.relative] }), ...rest };
}

const sigma = (size: number, relative = false): [string, number, boolean] => ["standard deviation", size, relative];

describe("parsePhrase", () => {
  it.each<[string, Record<string, unknown>]>([
    ["6 um", { value: 6e-6 }],
    ["6 um ± 0.3 um per wafer", { value: 6e-6, spread: sigma(3e-7), scope: "per wafer" }],
    ["6 um ± 0.3 um per die", { value: 6e-6, spread: sigma(3e-7), scope: "per die" }],
    ["6 um +- 5 % per feature", { value: 6e-6, spread: sigma(0.05, true), scope: "per feature" }],
    ["6 um +/- 0.3 um", { value: 6e-6, spread: sigma(3e-7) }],
    ["6 um+-0.3 um", { value: 6e-6, spread: sigma(3e-7) }],
    ["6 ± 0.3 um", { value: 6e-6, spread: sigma(3e-7) }],
    ["5e18 ± 1e17 cm^-3", { value: 5e24, spread: sigma(1e23) }],
    ["10 um within 1 um", { value: 1e-5, spread: ["half width", 1e-6, false] }],
    ["10 um within 10 %", { value: 1e-5, spread: ["half width", 0.1, true] }],
    ["0.010 to 0.020 ohm cm", { value: 1e-4, spread: ["up to", 2e-4, false] }],
    ["0.010 ohm cm to 0.020 ohm cm", { value: 1e-4, spread: ["up to", 2e-4, false] }],
    ["-5 to 5 um", { value: -5e-6, spread: ["up to", 5e-6, false] }],
    ["2 to 5 %", { value: 0.02, spread: ["up to", 0.05, false] }],
    ["-40 to 125 °C", { value: 233.15, spread: ["up to", 398.15, false] }],
    ["2 um to 2 um * 3", { value: 2e-6, spread: ["up to", 6e-6, false] }],
    ["1 ± 8 %", { value: 1, spread: sigma(0.08, true) }],
    ["3 % ± 1 %", { value: 0.03, spread: sigma(0.01) }],
    ["20 ppm ± 70 ppm", { value: 2e-5, spread: sigma(7e-5) }],
    ["20 °C ± 2 K", { value: 293.15, spread: sigma(2) }],
    [
      "assumed 0.5 um ± 0.15 um, default of this etch",
      { value: 5e-7, evidence: "assumed", spread: sigma(1.5e-7), source: "default of this etch" },
    ],
    ["drawn 6 um", { value: 6e-6, evidence: "drawn" }],
    ["predicted 40 mA", { value: 0.04, evidence: "predicted" }],
    [
      "measured 4.8 um ± 0.1 um, microscope, die K11, 2026-11-20",
      { value: 4.8e-6, evidence: "measured", spread: sigma(1e-7), source: "microscope, die K11", date: "2026-11-20" },
    ],
    [
      "measured 5 um, 2026-11-20, microscope (field 2, left)",
      { value: 5e-6, evidence: "measured", date: "2026-11-20", source: "microscope (field 2, left)" },
    ],
    [
      "0.5 um ± 0.1 um per wafer, shared with deep etch, run 7",
      { value: 5e-7, spread: sigma(1e-7), scope: "per wafer", sharedCause: "deep etch", source: "run 7" },
    ],
    ["max(2 um, 3 um) / 2, of both", { value: 1.5e-6, source: "of both" }],
    ["6 um ± max(0.1 um, 0.2 um)", { value: 6e-6, spread: sigma(2e-7) }],
    ["  6 um  ", { value: 6e-6 }],
  ])("%s", (text, wanted) => {
    const found = said(text);
    const plain = (x: unknown): unknown =>
      typeof x === "number" ? Number(x.toPrecision(14)) : Array.isArray(x) ? x.map(plain) : x;
    expect(Object.fromEntries(Object.entries(found).map(([key, value]) => [key, plain(value)]))).toEqual(wanted);
  });

  it("leaves names and sums to be evaluated", () => {
    expect(parsePhrase("slit pitch / 2 - 2 um").value.kind).toBe("binary");
    expect(parsePhrase("measured-width").value).toEqual({ kind: "name", name: "measured-width", at: 0 });
  });

  it.each(["2024-02-29", "2000-02-29", "2026-12-31", "2026-04-30"])("takes %s for a day", (date) => {
    expect(parsePhrase(`1 um, ${date}`).date).toBe(date);
  });

  it("writes dates in full, so that they sort", () => {
    expect(parsePhrase("1 um, 2026-1-5").date).toBe("2026-01-05");
  });

  // Gregorian calendar: no leap year in 1900 and 2100
  it.each(["2026-02-29", "1900-02-29", "2100-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "2026-01-00", "2026-01-32"])(
    "refuses %s",
    (date) => {
      expect(refusal(`1 um, ${date}`).message).toBe(`${date} is not a day of the calendar (year-month-day)`);
    },
  );

  it.each([
    ["", "nothing stands here", 0],
    ["measured", "nothing stands here", 8],
    ["6 um,", "nothing stands behind a comma", 5],
    ["6 um,, die", "nothing stands behind a comma", 5],
    ["6 um ±", "nothing stands here", 6],
    ["± 1 um", "nothing stands here", 0],
    ["6 um ± 0.3 um ± 0.1 um", '"±" has no meaning in a sum', 14],
    ["6 um per wafer", '"per wafer" tells how a spread is shared, but no spread (±) is given', 0],
    ["2,5 um", "write a decimal point, 2.5", 0],
    ["measured 4 microns", 'the nearest is "um"', 11],
    ["6 um ± 2 Ohm", 'the nearest is "ohm"', 9],
    ["6 um, 2026-01-01, 2026-01-02", "two dates are given, 2026-01-01 and 2026-01-02", 18],
    ["6 um, shared with a, shared with b", "two shared causes are given", 21],
    ["6 um, shared with", '"shared with" lacks the name of a cause', 6],
  ])("refuses %j", (text, clause, at) => {
    const error = refusal(text);
    expect(error.message).toContain(clause);
    expect(error.at).toBe(at);
  });
});

describe("readsAsName", () => {
  it.each(["leg width", "bent-beam", "gap 2", "Länge", "total", "toString", "constructor", "width_2"])("%s", (name) => {
    expect(readsAsName(name)).toBe(true);
  });
  it.each([
    "gap to plate",
    "measured width",
    "width within",
    "a - b",
    "slack per die",
    "pi",
    "leg  width",
    "2 um",
    "a,b",
    "",
    "width 5um",
    "x to y",
  ])("not %j", (name) => {
    expect(readsAsName(name)).toBe(false);
  });
});
