import { describe, expect, it } from "vitest";
import { rectangle } from "#geometry";
import { formatPlateSvg } from "./plate-svg.ts";

const plate = {
  title: "Plate 3, STRUCT < & >",
  outline: rectangle({ left: -1_000_000, bottom: -500_000, right: 1_000_000, top: 500_000 }),
  polygons: [rectangle({ left: 0, bottom: 0, right: 10_000, top: 400_500 })],
  ink: "INK",
  glass: "GLASS",
};

describe("formatPlateSvg", () => {
  it("is as large as the die, in micrometres inside, with y up", () => {
    const svg = formatPlateSvg(plate);
    expect(svg).toContain('width="2mm" height="1mm" viewBox="0 0 2000 1000"');
    // y = 400.5 um on the plate lies 99.5 um below the upper edge.
    expect(svg).toContain('d="M1000 500L1010 500L1010 99.5L1000 99.5Z" fill="INK" fill-rule="nonzero"');
    expect(svg).toContain("<title>Plate 3, STRUCT &lt; &amp; &gt;</title>");
    expect(svg).toContain("<desc>");
  });

  it("shows a second plate by its outline alone, and uses no colours but those given", () => {
    const svg = formatPlateSvg({
      ...plate,
      over: [rectangle({ left: 0, bottom: 0, right: 1000, top: 1000 })],
      overInk: "SECOND",
    });
    expect(svg).toContain('d="M1000 500L1001 500L1001 499L1000 499Z" fill="none" stroke="SECOND" stroke-width="1.25"');
    expect([...svg.matchAll(/(?:fill|stroke)="([^"]+)"/g)].map((match) => match[1]).sort()).toEqual([
      "GLASS",
      "INK",
      "SECOND",
      "none",
    ]);
    expect(svg).not.toContain("#");
  });
});
