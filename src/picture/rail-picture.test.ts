import { describe, expect, it } from "vitest";
import type { RailRow } from "./rail-layout.ts";
import { railPicture } from "./rail-picture.ts";
import { amber, night, paper } from "./tokens.ts";

const travel: RailRow = {
  name: "Travel",
  limit: "at least 6.0 µm",
  value: "6.45 ± 0.22 µm",
  verdict: "holds",
  chance: "97 in 100",
  drawn: { margin: 0.25 },
  built: { margin: 0.075, sigma: 0.037 },
  measured: { margin: -0.117, sigma: 0.02 },
};

const picture = (...rows: RailRow[]): string => railPicture({ title: "What must hold", rows });

/** Circles below the legend: [centre x, centre y]. */
const circles = (svg: string): readonly (readonly number[])[] =>
  [...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)"/g)]
    .map((match) => [Number(match[1]), Number(match[2])])
    .filter(([, y]) => y! > 60);

/** The x of the common fence, from its long stroke. */
const fenceOf = (svg: string): number => Number(/d="M([\d.]+) 78V/.exec(svg)![1]);

describe("railPicture", () => {
  it("gives the same text for the same input, and says every row in words", () => {
    expect(picture(travel)).toBe(picture(travel));
    expect(picture(travel)).toContain(
      "Travel, at least 6.0 µm: 6.45 ± 0.22 µm, holds, 97 in 100, as drawn +25 % of the limit, as built +8 % of the limit, measured \u221212 % of the limit.",
    );
  });

  it("puts what holds right of the common fence, in proportion to its margin", () => {
    const svg = picture(travel);
    const fence = fenceOf(svg);
    const [ring, dot] = circles(svg);
    expect((ring![0]! - fence) / (dot![0]! - fence)).toBeCloseTo(0.25 / 0.075, 2);
    expect(dot![1]).toBe(ring![1]);
  });

  it("lines up the fences of all rows and gives a two-sided limit a second one", () => {
    const twoSided: RailRow = {
      ...travel,
      name: "Rest",
      limit: "between 9 and 11 µm",
      twoSided: true,
      drawn: { margin: 2 },
      built: { margin: 0 },
    };
    const svg = picture(travel, twoSided);
    const [ring, dot] = circles(svg).slice(2);
    expect(dot![0]).toBeCloseTo(fenceOf(svg), 2);
    // A value on the upper limit stands on the second fence.
    expect(svg).toContain(`M${ring![0]} `);
  });

  it("snaps the rail of what fails, cracks that of what is open, dots what is not computed, and colours the word alone", () => {
    const fails = picture({ ...travel, verdict: "fails", chance: "1 in 100", built: { margin: -0.2, sigma: 0.02 } });
    expect(fails).toContain(`fill="${paper.fail}">fails</tspan>, 1 in 100`);
    expect(fails.split(paper.fail).length - 1).toBe(1);
    const [dot] = circles(fails).filter(([x]) => x! < fenceOf(fails));
    // The short side sags: a mark on it stands lower than its row's middle, 84 + 38 / 2.
    expect(dot![1]).toBeGreaterThan(103);
    expect(picture({ ...travel, verdict: "open" })).toContain("l3 -6l4 12l4 -12l4 12l3 -6");
    expect(picture({ ...travel, verdict: "not yet computed" })).toContain('stroke-dasharray="1.5 5"');
    expect(picture(travel)).not.toContain(paper.fail);
  });

  it("steps marks that coincide off the rail", () => {
    const svg = picture({ ...travel, drawn: { margin: 0.08 } });
    const [ring, dot] = circles(svg);
    expect(ring![1]! - dot![1]!).toBe(12);
  });

  it("marks what is off the scale by an arrowhead with its margin", () => {
    const svg = picture({ ...travel, drawn: { margin: 3.4 } });
    expect(circles(svg).length).toBe(1);
    expect(svg).toContain(">drawn +340 %<");
  });

  it("puts the limit under a name that leaves no room beside it", () => {
    const heights = (name: string): readonly string[] => {
      const svg = picture({ ...travel, name });
      return [name, travel.limit].map((words) => new RegExp(`y="([\\d.]+)"[^>]*>${words}<`).exec(svg)![1]!);
    };
    const [short, long] = [heights("Travel"), heights("Position of the blade at rest")];
    expect(short[0]).toBe(short[1]);
    expect(Number(long[1]) - Number(long[0])).toBeGreaterThan(13);
  });

  it("uses tokens alone in every mode and survives values that are not numbers", () => {
    for (const tokens of [paper, night, amber]) {
      const known = new Set<string>(Object.values(tokens).flat());
      const svg = railPicture({
        title: "x",
        tokens,
        rows: [travel, { ...travel, name: "a < b & c", chance: "$& in 100", built: { margin: Number.NaN, sigma: 1 } }],
      });
      expect(svg.match(/#[0-9A-Fa-f]{6}/g)!.filter((colour) => !known.has(colour))).toEqual([]);
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
      expect(svg).toContain("a &lt; b &amp; c");
      expect(svg).toContain("$&amp; in 100");
    }
    expect(picture()).toContain("</svg>");
  });
});
