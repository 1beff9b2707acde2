/**
 * The loupe: a round piece of the device many times larger, at rest. What is filled is the silicon as built, the dashed line its edge as
 * drawn, and across the middle stands the width or the gap there. Main test: loupe-scene.test.ts.
 */
import type { DeviceLayers, Outlines } from "#chip";
import type { Scene, Shape, Tokens } from "#picture";
import { type Measure, measureAt } from "./measure.ts";
import { isInside } from "./part-at.ts";
import { extentOf } from "./window.ts";

interface Place {
  readonly x: number;
  readonly y: number;
}

/** Of the loupe, [px]. */
export const loupeRadius = 104;
/** How far over an edge one looks for whose it is: beyond the rounding of the mask grid, [m]. */
const over = 20e-9;
const tick = 5;

export interface LoupeView {
  readonly layers: DeviceLayers;
  /** Middle of what is seen, [m]. */
  readonly place: Place;
  /** Pixels a metre within the loupe. */
  readonly zoom: number;
  /** Middle of the loupe in the picture, [px]. */
  readonly centre: Place;
  /** What is looked at, in the picture, [px]: elsewhere than the loupe under a finger. */
  readonly spot: Place;
  readonly tokens: Tokens;
}

function circle({ x, y }: Place, radius: number): Float64Array {
  const n = 96;
  return Float64Array.from({ length: 2 * n }, (_, i) => {
    const turn = (2 * Math.PI * (i >> 1)) / n;
    return i % 2 === 0 ? x + radius * Math.cos(turn) : y + radius * Math.sin(turn);
  });
}

/** Outlines that reach into the loupe: what is large and far away need not be drawn. */
function near(outlines: Outlines, { place, zoom }: LoupeView): Outlines {
  const reach = (1.1 * loupeRadius) / zoom;
  return outlines.filter((points) => {
    const { left, right, bottom, top } = extentOf([points]);
    return left < place.x + reach && right > place.x - reach && bottom < place.y + reach && top > place.y - reach;
  });
}

function dimension(measure: Measure | undefined, toPixels: (place: Place) => Place, colour: string): readonly Shape[] {
  if (measure?.to === undefined) return [];
  const [a, b] = [toPixels(measure.from), toPixels(measure.to)];
  const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const [nx, ny] = [(-(b.y - a.y) / length) * tick, ((b.x - a.x) / length) * tick];
  const stroke = { colour, width: 1.75 };
  return [
    Float64Array.of(a.x, a.y, b.x, b.y),
    Float64Array.of(a.x - nx, a.y - ny, a.x + nx, a.y + ny),
    Float64Array.of(b.x - nx, b.y - ny, b.x + nx, b.y + ny),
  ].map((points) => ({ kind: "line", points, stroke }));
}

export function loupeShapes(view: LoupeView): readonly Shape[] {
  const { layers, place, zoom, centre, spot, tokens } = view;
  const toPixels = ({ x, y }: Place): Place => ({ x: centre.x + (x - place.x) * zoom, y: centre.y - (y - place.y) * zoom });
  const pixels = (points: Float64Array): Float64Array =>
    points.map((value, i) => (i % 2 === 0 ? centre.x + (value - place.x) * zoom : centre.y - (value - place.y) * zoom));
  const inside: Shape[] = [
    { kind: "area", outlines: [circle(centre, loupeRadius)], fill: tokens.glass },
    { kind: "area", outlines: near(layers.metal, view).map(pixels), fill: tokens.metal },
    {
      kind: "area",
      outlines: near(layers.built, view).map(pixels),
      fill: tokens.silicon,
      stroke: { colour: tokens.ink2, width: 0.75 },
    },
    ...near(layers.silicon, view).map(
      (points): Shape => ({
        kind: "line",
        points: pixels(points),
        closed: true,
        stroke: { colour: tokens.ink, width: 1.25, dashes: [5, 4] },
      }),
    ),
    ...dimension(measureAt(near(layers.silicon, view), place), toPixels, tokens.handle),
  ];
  const away = Math.hypot(spot.x - centre.x, spot.y - centre.y);
  const [ux, uy] = away > 0 ? [(spot.x - centre.x) / away, (spot.y - centre.y) / away] : [0, 0];
  return [
    { kind: "inside", outlines: [circle(centre, loupeRadius)], shapes: inside },
    ...(away > loupeRadius
      ? ([
          {
            kind: "line",
            points: Float64Array.of(centre.x + ux * loupeRadius, centre.y + uy * loupeRadius, spot.x, spot.y),
            stroke: { colour: tokens.ink2, width: 1.25 },
          },
        ] as const)
      : []),
    { kind: "ring", at: [centre.x, centre.y], radius: loupeRadius, stroke: { colour: tokens.ink, width: 2.25 } },
    { kind: "ring", at: [centre.x, centre.y], radius: 3, stroke: { colour: tokens.handle, width: 1.25 } },
  ];
}

/** The loupe alone, to be saved. */
export function loupeScene(view: LoupeView): Scene {
  const half = loupeRadius + 16;
  const middle = { x: half, y: half };
  const shapes = loupeShapes({ ...view, centre: middle, spot: middle });
  return { width: 6 * half, height: 2 * half, ground: view.tokens.stock, shapes };
}

/** A length as it stands in words, [m]. */
function micrometres(metres: number): string {
  const um = metres * 1e6;
  return `${um.toFixed(um >= 9.995 ? 1 : 2)} µm`;
}

/** Whose silicon lies at a place, beams before the bodies that they reach into. */
function partNear({ parts }: DeviceLayers, place: Place): string | undefined {
  return parts.filter(({ outline }) => isInside([outline], place)).at(-1)?.name;
}

const beyond = (from: Place, to: Place, way: number): Place => {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  return { x: from.x + ((to.x - from.x) / length) * way, y: from.y + ((to.y - from.y) / length) * way };
};

/** What stands in the middle of the loupe: how wide or how far apart, as drawn and as built. */
export function loupeWords(layers: DeviceLayers, place: Place): string {
  const drawn = measureAt(layers.silicon, place);
  if (drawn === undefined) return "There is no silicon in this device.";
  const built = measureAt(layers.built, place);
  const asBuilt = built?.kind === drawn.kind && built.size !== undefined ? `, ${micrometres(built.size)} as built` : "";
  if (drawn.kind === "width") {
    const name = partNear(layers, place) ?? "the silicon";
    return drawn.size === undefined ? `${name}.` : `${name} is ${micrometres(drawn.size)} wide as drawn${asBuilt}.`;
  }
  const one = partNear(layers, beyond(drawn.from, place, -over)) ?? "the silicon";
  if (drawn.size === undefined || drawn.to === undefined) return `Open ground, ${micrometres(drawn.distance)} from ${one}.`;
  const other = partNear(layers, beyond(drawn.to, drawn.from, -over)) ?? "the silicon";
  const between = one === other ? `within ${one}` : `between ${one} and ${other}`;
  return `A gap of ${micrometres(drawn.size)} as drawn${asBuilt}, ${between}.`;
}

/** Outlines that are seen, as rows of a table. */
export function tableOfLoupe(view: LoupeView): string {
  const rows = (["silicon", "built", "metal"] as const).flatMap((kind) =>
    near(view.layers[kind], view).flatMap((points, outline) =>
      Array.from({ length: points.length / 2 }, (_, i) => {
        const word = kind === "silicon" ? "silicon as drawn" : kind === "built" ? "silicon as built" : kind;
        return `${word},${outline + 1},${points[2 * i]!},${points[2 * i + 1]!}`;
      }),
    ),
  );
  return `layer,outline,x (m),y (m)\n${rows.join("\n")}\n`;
}
