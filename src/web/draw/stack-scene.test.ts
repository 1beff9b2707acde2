import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { DeviceLayers } from "#chip";
import { amber, paper, type Shape } from "#picture";
import { isInside } from "./part-at.ts";
import { firstView, heightsOf, type StackView, shaded, stackScene, tableOfStack } from "./stack-scene.ts";

const um = 1e-6;
const frame = { width: 800, height: 600 };
const box = (left: number, bottom: number, width: number, height: number): Float64Array =>
  Float64Array.of(left, bottom, left + width, bottom, left + width, bottom + height, left, bottom + height).map((x) => x * um);

function layersWith(silicon: readonly Float64Array[], recess: readonly Float64Array[] = []): DeviceLayers {
  return {
    anchors: [],
    moving: silicon,
    silicon,
    built: silicon,
    metal: [],
    recess,
    parts: [],
    inward: 0,
    thickness: 40 * um,
    depth: recess.length > 0 ? 10 * um : undefined,
  };
}

const sceneOf = (layers: DeviceLayers, view: Partial<StackView>) =>
  stackScene(layers, { view: { ...firstView, ...view }, frame, tokens: paper })!;
const filled = (shapes: readonly Shape[], fill: string) =>
  shapes.flatMap((shape) => (shape.kind === "area" && shape.fill === fill ? [shape] : []));
/** The colour that lies on top at a pixel. */
const seenAt = (shapes: readonly Shape[], x: number, y: number): unknown =>
  shapes.findLast((shape) => shape.kind === "area" && isInside(shape.outlines, { x, y }));

describe("the layers seen obliquely", () => {
  it("are the plan itself from above, with no walls", () => {
    const scene = sceneOf(layersWith([box(0, 0, 100, 50)]), { turn: 0, eye: Math.PI / 2 });
    const [top] = filled(scene.shapes, paper.silicon);
    const points = top!.outlines[0]!;
    expect(points[2]! - points[0]!).toBeCloseTo(100 * um * scale(scene), 6);
    // y runs down in pictures
    expect(points[3]! - points[5]!).toBeCloseTo(50 * um * scale(scene), 6);
    expect(scene.shapes.filter(({ kind }) => kind === "area").length).toBe(4);
  });

  it("shorten depth by the sine of the eye's height and heights by its cosine", () => {
    const eye = 0.6;
    const scene = sceneOf(layersWith([box(0, 0, 100, 50)]), { turn: 0, eye });
    const [top] = filled(scene.shapes, paper.silicon);
    const points = top!.outlines[0]!;
    expect(points[3]! - points[5]!).toBeCloseTo(50 * um * Math.sin(eye) * scale(scene), 6);
    const walls = filled(scene.shapes, shaded(paper.silicon, 0.62));
    const front = walls.map(({ outlines }) => outlines[0]!);
    expect(front.length).toBeGreaterThan(10);
    for (const wall of front) expect(wall[1]! - wall[7]!).toBeCloseTo(40 * um * Math.cos(eye) * scale(scene), 6);
  });

  it("grow with the heights and part as told, the metal half way", () => {
    const layers = layersWith([box(0, 0, 100, 50)], [box(-5, -5, 110, 60)]);
    const at = heightsOf(layers, { ...firstView, heights: 3, apart: 4 });
    const expected = { bottom: -120, floor: -30, metal: 240, silicon: 480, top: 600 };
    for (const [name, height] of Object.entries(expected)) expect(at[name as keyof typeof at] / um).toBeCloseTo(height, 9);
  });

  it("show at each pixel what a line of sight meets first", () => {
    const cell = fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 5 }));
    const posts = fc.uniqueArray(cell, { minLength: 1, maxLength: 14, selector: ([i, j]) => 6 * i + j });
    const places = fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })), {
      minLength: 40,
      maxLength: 40,
    });
    fc.assert(
      fc.property(
        posts,
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: 0.3, max: 1.5, noNaN: true }),
        places,
        (cells, turn, eye, pixels) => {
          const rings = cells.map(([i, j]) => box(20 * i, 20 * j, 14, 14));
          const layers = layersWith(rings);
          const scene = sceneOf(layers, { turn, eye });
          const tops = filled(scene.shapes, paper.silicon)[0]!.outlines;
          // the pixel of a known corner places the picture; lines of sight run towards the viewer and up
          const [u, v] = [Math.cos(turn), Math.sin(turn)];
          const k = scale(scene);
          const corner = { x: rings[0]![0]!, y: rings[0]![1]!, pixel: [tops[0]![0]!, tops[0]![1]!] as const };
          for (const [a, b] of pixels) {
            const [px, py] = [a * frame.width, b * frame.height];
            // where the line of sight crosses the plane of the tops, 40 um up
            const across = (px - corner.pixel[0]) / k;
            const away = -(py - corner.pixel[1]) / (k * Math.sin(eye));
            const [x, y] = [corner.x + u * across + v * away, corner.y - v * across + u * away];
            const first = firstMet(rings, { x, y, way: [v, u], drop: Math.tan(eye) });
            if (first === "unsure") continue;
            const glassy = [undefined, paper.glass, ...glassWalls(turn)];
            const seen = seenAt(scene.shapes, px, py) as Extract<Shape, { kind: "area" }> | undefined;
            if (first === "none") expect(glassy).toContain(seen?.fill);
            else if (first === "top") expect(seen?.fill).toBe(paper.silicon);
            else expect(seen?.fill).toBe(shaded(paper.silicon, 0.62 + 0.16 * -(u * first[0] - v * first[1])));
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it("have no picture without silicon, and no blue in Amber", () => {
    expect(stackScene(layersWith([]), { view: firstView, frame, tokens: paper })).toBeUndefined();
    const scene = stackScene(layersWith([box(0, 0, 9, 9)], [box(-2, -2, 13, 13)]), { view: firstView, frame, tokens: amber })!;
    for (const shape of scene.shapes)
      if (shape.kind === "area" && typeof shape.fill === "string") expect(shape.fill.slice(5)).toBe("00");
  });

  it("are saved with the heights between which they stand", () => {
    const rows = tableOfStack(layersWith([box(0, 0, 100, 50)], [box(-5, -5, 110, 60)])).split("\n");
    expect(rows[0]).toBe("layer,outline,x (m),y (m),from (m),to (m)");
    expect(rows[1]!.startsWith('"recess in the glass",1,')).toBe(true);
    expect(Number(rows[1]!.split(",")[4])).toBeCloseTo(-10 * um, 12);
    expect(rows.length).toBe(1 + 4 + 4 + 1);
  });
});

/** Sides of the glass in the light that falls on them. */
const glassWalls = (turn: number): readonly string[] =>
  [
    [0, 1],
    [0, -1],
    [1, 0],
    [-1, 0],
  ].map(([nx, ny]) => shaded(paper.glass, 0.62 + 0.16 * -(Math.cos(turn) * nx! - Math.sin(turn) * ny!)));

const scale = ({ scale: found }: { readonly scale: number }): number => found;

/**
 * What a line of sight meets first on its way down: a top, a wall by its outward normal, or nothing above the glass. It crosses the plane
 * of the tops at (x, y) and falls away from the viewer by `drop` times its way.
 */
function firstMet(
  rings: readonly Float64Array[],
  { x, y, way, drop }: { readonly x: number; readonly y: number; readonly way: readonly [number, number]; readonly drop: number },
): "top" | "none" | "unsure" | readonly [number, number] {
  const near = 0.05 * um;
  let best: { at: number; normal: readonly [number, number] } | undefined;
  for (const ring of rings) {
    const [left, bottom, right, top] = [ring[0]!, ring[1]!, ring[2]!, ring[5]!];
    const edges = [x - left, right - x, y - bottom, top - y];
    if (edges.every((room) => room > near)) return "top";
    if (edges.every((room) => room > -near)) return "unsure";
    // slab test along the way
    const reach = (40 * um) / drop;
    let [enter, leave, normal] = [0, reach, undefined as readonly [number, number] | undefined];
    for (const [position, direction, low, high, axis] of [
      [x, way[0], left, right, 0],
      [y, way[1], bottom, top, 1],
    ] as const) {
      if (Math.abs(direction) < 1e-6) {
        if (position < low || position > high) leave = -1;
        continue;
      }
      const [first, second] = direction > 0 ? [low, high] : [high, low];
      const [a, b] = [(first - position) / direction, (second - position) / direction];
      if (a > enter) {
        enter = a;
        const sign = direction > 0 ? -1 : 1;
        normal = axis === 0 ? [sign, 0] : [0, sign];
      }
      leave = Math.min(leave, b);
    }
    if (Math.abs(enter - leave) < near || Math.abs(enter - reach) < near) return "unsure";
    if (enter < leave && normal !== undefined && (best === undefined || enter < best.at)) best = { at: enter, normal };
  }
  return best?.normal ?? "none";
}
