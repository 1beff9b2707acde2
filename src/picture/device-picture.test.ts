import { describe, expect, it } from "vitest";
import { colourOfShare, type DevicePictureOptions, devicePicture } from "./device-picture.ts";
import { amber, ember, paper } from "./tokens.ts";

const micro = (...values: number[]): Float64Array => Float64Array.from(values, (value) => value * 1e-6);

const options: DevicePictureOptions = {
  title: "A leg & its anchor",
  caption: "Seen from above, true scale.",
  parts: [{ kind: "anchors", outlines: [micro(0, 0, 100, 0, 100, 50, 0, 50)] }],
  beams: [{ points: micro(100, 25, 300, 25, 500, 25), widths: [10e-6, 10e-6], values: Float64Array.of(20, 400) }],
  labels: [{ text: "anchor", at: [50e-6, 25e-6], to: [100e-6, 60e-6] }],
  field: { low: 20, high: 400, unit: "°C", name: "temperature" },
};

/** Points of the first path with that fill. */
function pointsFilled(svg: string, fill: string): readonly (readonly [number, number])[] {
  const path = new RegExp(`<path d="M([^"]*)Z" fill="${fill}"`).exec(svg)![1]!;
  return path.split("L").map((pair) => pair.split(" ").map(Number) as unknown as [number, number]);
}

describe("devicePicture", () => {
  it("draws to one scale in x and y, with y up", () => {
    const [a, b, c] = pointsFilled(devicePicture(options), paper.anchors);
    expect((b![0] - a![0]) / (b![1] - c![1])).toBeCloseTo(2, 3);
    expect(c![1]).toBeLessThan(b![1]);
  });

  it("fills each segment by its value from one end of the map to the other", () => {
    const svg = devicePicture(options);
    const [cold, hot] = [pointsFilled(svg, ember[0]!), pointsFilled(svg, ember[10]!)];
    // The segments join at the middle of the beam without a gap.
    expect(Math.max(...cold.map(([x]) => x))).toBe(Math.min(...hot.map(([x]) => x)));
    const width = Math.max(...cold.map(([, y]) => y)) - Math.min(...cold.map(([, y]) => y));
    const length = Math.max(...cold.map(([x]) => x)) - Math.min(...cold.map(([x]) => x));
    expect(length / width).toBeCloseTo(20, 1);
  });

  it("draws a scale bar as long as it says", () => {
    const svg = devicePicture(options);
    const bar = Number(/v10m0 -5H([\d.]+)m0 -5v10/.exec(svg)![1]) - Number(/d="M([\d.]+) [\d.]+v10m0 -5H/.exec(svg)![1]);
    const [a, b] = pointsFilled(svg, paper.anchors);
    const said = Number(/>(\d+) µm</.exec(svg)![1]);
    expect(bar / (b![0] - a![0])).toBeCloseTo(said / 100, 3);
  });

  it("mixes neighbours of the map and keeps to its ends", () => {
    expect(colourOfShare(0, ember)).toBe(ember[0]);
    expect(colourOfShare(1, ember)).toBe(ember[10]);
    expect(colourOfShare(-3, ember)).toBe(ember[0]);
    expect(colourOfShare(7, ember)).toBe(ember[10]);
    // Half way between #2C203A and #492552 is 3A.8 22.8 46.
    expect(colourOfShare(0.05, ember)).toBe("#3B2346");
  });

  it("has no blue in Amber, mixed colours included", () => {
    const svg = devicePicture({
      ...options,
      beams: [{ ...options.beams[0]!, values: Float64Array.of(111, 222) }],
      tokens: amber,
    });
    for (const colour of svg.match(/#[0-9A-Fa-f]{6}/g)!) expect(colour.slice(5)).toBe("00");
  });

  it("gives the same text for the same input, with title and description escaped", () => {
    expect(devicePicture(options)).toBe(devicePicture(options));
    expect(devicePicture(options)).toContain("<title>A leg &amp; its anchor</title>");
    expect(devicePicture(options)).not.toMatch(/NaN|Infinity|undefined/);
  });

  it("refuses a beam whose values do not fit, a missing scale, and an empty picture", () => {
    const beam = { ...options.beams[0]!, values: Float64Array.of(1) };
    expect(() => devicePicture({ ...options, beams: [beam] })).toThrow("wanted one value a segment (2), found 1");
    const { field: _, ...noField } = options;
    expect(() => devicePicture(noField)).toThrow("wanted a field scale");
    expect(() => devicePicture({ title: "", caption: "", parts: [], beams: [] })).toThrow("wanted at least one part or beam");
  });
});
