import { describe, expect, it } from "vitest";
import { regionPlot } from "./region-plot.ts";

/** Free ground right of x = 5 of 10. */
const isFree = (s: number): boolean => s >= 0.5;
const options = {
  title: "Where the legs may live",
  note: "Clear ground is free.",
  x: { name: "leg length", unit: "µm", low: 0, high: 10 },
  y: { name: "leg width", unit: "µm", low: 0, high: 10 },
  isFree,
  edges: [
    { label: "travel, at least 6 µm", line: Float64Array.of(5, 0, 5, 10), bounds: true },
    { label: "current, at most 80 mA", line: Float64Array.of(0, 2, 4, 2), bounds: false },
  ],
  contours: [{ label: "90 in 100", lines: [Float64Array.of(7, 0, 7, 10)] }],
  design: { label: "7.0 by 4.0", x: 7, y: 4 },
};

describe("a region plot", () => {
  const svg = regionPlot(options);
  const dots = [...(/<path d="((?:M[\d.]+ [\d.]+h1v1h-1z)+)"/.exec(svg)?.[1] ?? "").matchAll(/M([\d.]+) /g)].map((match) =>
    Number(match[1]),
  );
  it("stipples forbidden ground and leaves free ground bare", () => {
    // the plane runs from 72 to 836, so that its middle is at 454
    expect(dots.length).toBeGreaterThan(1000);
    expect(Math.max(...dots)).toBeLessThan(454);
  });
  it("draws an edge of free ground heavy and others light, each with its words along it", () => {
    expect(svg).toMatch(/<path d="M454 560L454 96"[^>]*stroke-width="2.25"/);
    expect(svg).toContain(">travel, at least 6 µm<");
    expect(svg).toContain("rotate(-90)");
    expect(svg).toContain(">current, at most 80 mA<");
    expect(svg).toContain(">90 in 100<");
  });
  it("tells those who cannot see it where free ground ends", () => {
    expect(svg).toContain(
      "<desc>leg width against leg length. Free ground ends at: travel, at least 6 µm. The design: 7.0 by 4.0.</desc>",
    );
  });
  it("puts the bead where the design lies", () => {
    expect(svg).toContain('<circle cx="606.8" cy="374.4" r="7"');
  });
});
