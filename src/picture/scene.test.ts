import { describe, expect, test } from "vitest";
import { type Scene, svgOfScene } from "./scene.ts";
import { amber, paper } from "./tokens.ts";

const square = Float64Array.of(0, 0, 10, 0, 10, 10, 0, 10);
const hole = Float64Array.of(4, 4, 6, 4, 6, 6, 4, 6);
const sceneWith = (...shapes: Scene["shapes"]): Scene => ({ width: 100, height: 50, ground: paper.glass, shapes });
const options = { title: "blade & stem", caption: ["From above.", "Scale 1."], tokens: paper } as const;

describe("a scene as SVG", () => {
  test("draws areas with their openings, lines, rings and words in their order", () => {
    const svg = svgOfScene(
      sceneWith(
        { kind: "area", outlines: [square, hole], fill: paper.silicon, stroke: { colour: paper.ink2, width: 0.75 } },
        { kind: "line", points: Float64Array.of(0, 0, 5, 5), stroke: { colour: paper.ink, width: 1.25, dashes: [4, 3] } },
        { kind: "ring", at: [3, 4], radius: 2, stroke: { colour: paper.handle, width: 1.75 } },
        { kind: "words", at: [1, 2], words: "a < b", fill: paper.ink, halo: paper.sheet },
      ),
      options,
    );
    expect(svg).toContain(
      `<path d="M0 0L10 0L10 10L0 10ZM4 4L6 4L6 6L4 6Z" fill="${paper.silicon}" fill-rule="evenodd" stroke="${paper.ink2}"`,
    );
    expect(svg).toContain('stroke-dasharray="4 3"');
    expect(svg.match(/a &lt; b/g)).toHaveLength(2);
    expect(svg.indexOf("<circle")).toBeGreaterThan(svg.indexOf("stroke-dasharray"));
    expect(svg).toContain("blade &amp; stem");
    expect(svg).toContain("From above. Scale 1.");
  });

  test("every gradient and clip that is used is defined, each once", () => {
    const gradient = {
      from: [0, 0],
      to: [10, 0],
      stops: [
        [0, paper.ink],
        [1, paper.sheet],
      ],
    } as const;
    const inner = { kind: "area", outlines: [hole], fill: gradient } as const;
    const svg = svgOfScene(
      sceneWith(inner, {
        kind: "inside",
        outlines: [square],
        shapes: [inner, { kind: "inside", outlines: [hole], shapes: [inner] }],
      }),
      options,
    );
    const used = [...svg.matchAll(/url\(#(d\d+)\)/g)].map(([, id]) => id);
    const made = [...svg.matchAll(/id="(d\d+)"/g)].map(([, id]) => id);
    expect(new Set(made).size).toBe(made.length);
    expect(new Set(used)).toEqual(new Set(made));
    expect(used).toHaveLength(6);
  });

  test("in Amber no colour of the frame has blue", () => {
    const svg = svgOfScene({ ...sceneWith(), ground: amber.glass }, { ...options, tokens: amber });
    const colours = [...svg.matchAll(/#[0-9A-F]{6}/gi)].map(([colour]) => colour);
    expect(colours.length).toBeGreaterThan(2);
    expect(colours.filter((colour) => !colour.endsWith("00"))).toEqual([]);
  });
});
