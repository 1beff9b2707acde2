import { describe, expect, it } from "vitest";
import { type LinePlotOptions, linePlot } from "./line-plot.ts";
import { amber, night, paper } from "./tokens.ts";

const x = Float64Array.from({ length: 9 }, (_, i) => i);
const options: LinePlotOptions = {
  title: "Travel <against> drive",
  x: { name: "drive", unit: "V" },
  y: { name: "travel", unit: "µm" },
  limits: [{ label: "at least 6.0 µm", value: 6, kind: "at least" }],
  series: [
    { label: "as drawn", kind: "as drawn", x, y: x },
    { label: "as built", kind: "as built", x, y: x.map((v) => 0.9 * v), band: { low: x.map((v) => 0.8 * v), high: x } },
    { label: "read", kind: "measured", x: Float64Array.of(2, 4), y: Float64Array.of(1.9, Number.NaN) },
  ],
};

/** Numbers in the paths, which tell where things were drawn. */
const heightOf = (svg: string, words: string): number => Number(new RegExp(`y="([\\d.]+)"[^>]*>${words}<`).exec(svg)![1]);

describe("linePlot", () => {
  it("gives the same text for the same input, with title and description", () => {
    const svg = linePlot(options);
    expect(linePlot(options)).toBe(svg);
    expect(svg).toContain("<title>Travel &lt;against&gt; drive</title>");
    expect(svg).toContain("Limit: at least 6 µm.</desc>");
  });

  it("writes units at the axis ends and numbers with at most three decimals, none of them broken", () => {
    const svg = linePlot(options);
    expect(svg).toContain(">drive, V<");
    expect(svg).toContain(">travel, µm<");
    expect(svg).not.toMatch(/\d\.\d{4}/);
    expect(svg).not.toMatch(/NaN|Infinity|undefined|-0[^.\d]/);
  });

  it("uses no colour that is not a token, in every mode", () => {
    for (const tokens of [paper, night, amber]) {
      const known = new Set<string>(Object.values(tokens).flat());
      const used = linePlot({ ...options, tokens }).match(/#[0-9A-Fa-f]{6}/g)!;
      expect(used.filter((colour) => !known.has(colour))).toEqual([]);
    }
  });

  it("breaks a line at a value that is not a number, and leaves the diamond out", () => {
    const gap = { label: "gap", kind: "as built" as const, x, y: x.map((v) => (v === 4 ? Number.NaN : v)) };
    const starts = (svg: string): number =>
      /d="(M[^"]*)" fill="none" stroke="#241E1B" stroke-width="1.75"/.exec(svg)![1]!.split("M").length - 1;
    expect(starts(linePlot({ ...options, series: [gap] }))).toBe(2);
    expect(linePlot(options).split("l6 6l-6 6").length - 1).toBe(1);
  });

  it("keeps labels of lines that end together apart", () => {
    const same = ["one", "two", "three"].map((label, i) => ({
      label,
      kind: (["as drawn", "as built", "fitted"] as const)[i]!,
      x,
      y: x,
    }));
    const svg = linePlot({ ...options, series: same, limits: [] });
    const heights = ["one", "two", "three"].map((label) => heightOf(svg, label)).sort((a, b) => a - b);
    expect(heights[1]! - heights[0]!).toBeGreaterThanOrEqual(16.9);
    expect(heights[2]! - heights[1]!).toBeGreaterThanOrEqual(16.9);
  });

  it("draws a single point and an empty series without dividing by zero", () => {
    const one = { label: "one", kind: "as built" as const, x: Float64Array.of(3), y: Float64Array.of(5) };
    const none = { label: "none", kind: "as drawn" as const, x: Float64Array.of(), y: Float64Array.of() };
    for (const series of [[one], [none], []]) expect(linePlot({ ...options, series, limits: [] })).not.toMatch(/NaN|Infinity/);
  });

  it("refuses x and y of different lengths", () => {
    const bad = { label: "bad", kind: "as built" as const, x, y: Float64Array.of(1) };
    expect(() => linePlot({ ...options, series: [bad] })).toThrow("Cannot plot bad: wanted as many y as x, found 1 and 9");
  });
});
