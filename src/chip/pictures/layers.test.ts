import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { openChip } from "../predict/chip.ts";
import { layersOf, type Outlines } from "./layers.ts";

const file = "examples/02-leafgate/chip.yaml";
const layers = layersOf(openChip(readFileSync(file, "utf8"), { file }), "shutter");

/** Signed areas add up: holes run the other way round. [m^2] */
const area = (outlines: Outlines): number =>
  outlines.reduce((sum, points) => {
    let twice = 0;
    for (let i = 0; i < points.length; i += 2) {
      const next = (i + 2) % points.length;
      twice += points[i]! * points[next + 1]! - points[next]! * points[i + 1]!;
    }
    return sum + twice / 2;
  }, 0);
const length = (outlines: Outlines): number =>
  outlines.reduce((sum, points) => {
    let way = 0;
    for (let i = 0; i < points.length; i += 2) {
      const next = (i + 2) % points.length;
      way += Math.hypot(points[next]! - points[i]!, points[next + 1]! - points[i + 1]!);
    }
    return sum + way;
  }, 0);

describe("the layers of a device", () => {
  test("say what the text says of their heights and edges", () => {
    expect(layers.thickness).toBeCloseTo(40e-6, 12);
    expect(layers.depth).toBeCloseTo(7e-6, 12);
    // undercut as measured, 1.1 um, less the bias of 0.5 um
    expect(layers.inward).toBeCloseTo(0.6e-6, 12);
  });

  test("silicon is anchors and what moves, without overlap", () => {
    expect(area(layers.silicon) / (area(layers.anchors) + area(layers.moving))).toBeCloseTo(1, 9);
    // two anchors of 1 mm by 1.2 mm and four islands of 150 um square
    expect(area(layers.anchors) / (2 * 1e-3 * 1.2e-3 + 4 * 150e-6 ** 2)).toBeCloseTo(1, 6);
  });

  test("as built every edge has moved in by the same: area lost is edge times way, to second order", () => {
    const lost = area(layers.silicon) - area(layers.built);
    // corners add at most 4 squares of the way each
    const corners = layers.silicon.reduce((sum, points) => sum + points.length / 2, 0);
    expect(Math.abs(lost - length(layers.silicon) * layers.inward)).toBeLessThan(4 * corners * layers.inward ** 2);
  });

  test("the recess lies under all that moves, and under none of the anchors but its margin", () => {
    expect(area(layers.recess)).toBeGreaterThan(area(layers.moving));
    expect(layers.parts.some(({ name }) => name === "blade")).toBe(true);
    expect(area(layers.metal)).toBeGreaterThan(0);
  });
});
