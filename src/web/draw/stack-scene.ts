/**
 * The layers of a device one above the other, seen obliquely in parallel projection: glass with its recess, metal on it, silicon with its
 * walls; pulled apart as one likes. Lengths keep their ratio to one another, heights too where they are not drawn larger.
 *
 * Painted from the bottom layer up; within a layer the walls that face the viewer from back to front, then the top: tops of one height
 * never hide one another, and seen from above no wall hides the top that it carries. Main test: stack-scene.test.ts.
 */
import type { DeviceLayers, Outlines } from "#chip";
import type { Scene, Shape, Tokens } from "#picture";
import { type Extent, extentOf } from "./window.ts";

export interface StackView {
  /** Turn of the device about its normal, [rad]; at 0 its y runs away from the viewer. */
  readonly turn: number;
  /** Of the eye above the plane, from lowestEye to pi/2 (from above), [rad]. */
  readonly eye: number;
  /** Room put between the layers, in thicknesses of the silicon. */
  readonly apart: number;
  /** Times that heights are drawn larger. */
  readonly heights: number;
  /** 1 shows the whole. */
  readonly zoom: number;
  /** The picture moved out of the middle, [px]. */
  readonly moved: readonly [x: number, y: number];
}

export const firstView: StackView = { turn: -0.5, eye: 0.65, apart: 0, heights: 1, zoom: 1, moved: [0, 0] };
export const lowestEye = 0.25;
/** A wall is painted in pieces of this part of the device at most, so that the middle of each says which is in front. */
const piecesAcross = 48;
const margin = 24;

export interface StackFrame {
  readonly width: number;
  readonly height: number;
}

/** A colour of the house with less light on it. Takes and gives "#RRGGBB"; no channel grows, so Amber stays without blue. */
export function shaded(colour: string, light: number): string {
  const channels = [1, 3, 5].map((at) => Math.round(Number.parseInt(colour.slice(at, at + 2), 16) * light));
  return `#${channels.map((channel) => channel.toString(16).padStart(2, "0")).join("")}`.toUpperCase();
}

/** The projection: where a point of the device lies in the picture, and how far towards the viewer. */
class Eye {
  private readonly cos: number;
  private readonly sin: number;
  private readonly rise: number;
  private readonly lean: number;
  readonly scale: number;
  private readonly centre: readonly [number, number];

  constructor(
    view: StackView,
    private readonly box: Extent,
    { frame, heights }: { readonly frame: StackFrame; readonly heights: readonly [low: number, high: number] },
  ) {
    [this.cos, this.sin] = [Math.cos(view.turn), Math.sin(view.turn)];
    [this.rise, this.lean] = [Math.cos(view.eye), Math.sin(view.eye)];
    const corners = [box.left, box.right].flatMap((x) =>
      [box.bottom, box.top].flatMap((y) => heights.map((z) => this.flat(x, y, z))),
    );
    const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
    const [low, high] = [Math.min(...ys), Math.max(...ys)];
    const [left, right] = [Math.min(...xs), Math.max(...xs)];
    const room = Math.min((frame.width - 2 * margin) / (right - left), (frame.height - 2 * margin) / (high - low));
    this.scale = Math.max(room, 1) * view.zoom;
    this.centre = [
      frame.width / 2 + view.moved[0] - (this.scale * (left + right)) / 2,
      frame.height / 2 + view.moved[1] + (this.scale * (low + high)) / 2,
    ];
  }

  private flat(x: number, y: number, z: number): readonly [x: number, y: number] {
    const [dx, dy] = [x - (this.box.left + this.box.right) / 2, y - (this.box.bottom + this.box.top) / 2];
    const away = this.sin * dx + this.cos * dy;
    return [this.cos * dx - this.sin * dy, away * this.lean + z * this.rise];
  }

  pixel(x: number, y: number, z: number): readonly [x: number, y: number] {
    const [a, b] = this.flat(x, y, z);
    return [this.centre[0] + a * this.scale, this.centre[1] - b * this.scale];
  }

  pixels(points: Float64Array, z: number): Float64Array {
    const found = new Float64Array(points.length);
    for (let i = 0; i < points.length; i += 2) [found[i], found[i + 1]] = this.pixel(points[i]!, points[i + 1]!, z);
    return found;
  }

  /** How far a place lies from the viewer, [m]. */
  away(x: number, y: number): number {
    return this.sin * x + this.cos * y;
  }

  /** Of a wall with solid at the left of its way from one point to the other: what of its outside looks at the viewer, and at the light. */
  facing(dx: number, dy: number): { readonly viewer: number; readonly light: number } {
    const length = Math.hypot(dx, dy) || 1;
    const [nx, ny] = [dy / length, -dx / length];
    return { viewer: -(this.sin * nx + this.cos * ny) * this.rise, light: -(this.cos * nx - this.sin * ny) };
  }
}

interface Wall {
  readonly away: number;
  readonly shape: Shape;
}

/** Walls of outlines that stand from one height to another; `inside` for those of a hollow, which are seen from within. */
function walls(
  outlines: Outlines,
  {
    eye,
    from,
    to,
    colour,
    inside,
    piece,
  }: {
    readonly eye: Eye;
    readonly from: number;
    readonly to: number;
    readonly colour: string;
    readonly inside: boolean;
    readonly piece: number;
  },
): readonly Shape[] {
  const found: Wall[] = [];
  for (const points of outlines) {
    const n = points.length / 2;
    for (let i = 0; i < n; i++) {
      const [x0, y0] = [points[2 * i]!, points[2 * i + 1]!];
      const next = (i + 1) % n;
      const [dx, dy] = [points[2 * next]! - x0, points[2 * next + 1]! - y0];
      const { viewer, light } = eye.facing(dx, dy);
      if ((inside ? -viewer : viewer) <= 1e-9) continue;
      const fill = shaded(colour, 0.62 + 0.16 * (inside ? -light : light));
      const count = Math.max(1, Math.ceil(Math.hypot(dx, dy) / piece));
      for (let k = 0; k < count; k++) {
        const [a, b] = [k / count, (k + 1) / count];
        const [ax, ay, bx, by] = [x0 + a * dx, y0 + a * dy, x0 + b * dx, y0 + b * dy];
        const quad = Float64Array.of(
          ...eye.pixel(ax, ay, from),
          ...eye.pixel(bx, by, from),
          ...eye.pixel(bx, by, to),
          ...eye.pixel(ax, ay, to),
        );
        // a hair of its own colour closes the seam to the next piece
        const stroke = { colour: fill, width: 0.5 };
        found.push({ away: eye.away((ax + bx) / 2, (ay + by) / 2), shape: { kind: "area", outlines: [quad], fill, stroke } });
      }
    }
  }
  return found.sort((a, b) => b.away - a.away).map(({ shape }) => shape);
}

/** Heights of the layers with the room between them, [m]. The glass is drawn down to twice its recess, at least as thick as the silicon. */
export function heightsOf({ thickness, depth }: DeviceLayers, { apart, heights }: StackView) {
  const grown = (metres: number): number => metres * heights;
  const room = apart * grown(thickness);
  return {
    bottom: -grown(Math.max(2 * (depth ?? 0), thickness)),
    floor: -grown(depth ?? 0),
    metal: room / 2,
    silicon: room,
    top: room + grown(thickness),
  };
}

/** The picture, or undefined where the device has no layers. */
export function stackScene(
  layers: DeviceLayers,
  options: { readonly view: StackView; readonly frame: StackFrame; readonly tokens: Tokens },
): (Scene & { readonly scale: number }) | undefined {
  const { view, frame, tokens } = options;
  const drawn = extentOf([layers.silicon, layers.metal, layers.recess].flat());
  if (!(drawn.left < drawn.right)) return undefined;
  const around = 0.04 * Math.max(drawn.right - drawn.left, drawn.top - drawn.bottom);
  const box = {
    left: drawn.left - around,
    right: drawn.right + around,
    bottom: drawn.bottom - around,
    top: drawn.top + around,
  };
  const at = heightsOf(layers, view);
  const eye = new Eye(view, box, { frame, heights: [at.bottom, at.top] });
  const piece = Math.max(box.right - box.left, box.top - box.bottom) / piecesAcross;
  const edge = { colour: tokens.ink2, width: 0.5 };
  const slab = Float64Array.of(box.left, box.bottom, box.right, box.bottom, box.right, box.top, box.left, box.top);
  const flat = (outlines: Outlines, z: number): readonly Float64Array[] => outlines.map((points) => eye.pixels(points, z));
  const hollow: readonly Shape[] =
    layers.recess.length === 0
      ? []
      : [
          { kind: "area", outlines: flat(layers.recess, at.floor), fill: shaded(tokens.glass, 0.84) },
          ...walls(layers.recess, { eye, from: at.floor, to: 0, colour: tokens.glass, inside: true, piece }),
        ];
  return {
    ...frame,
    ground: tokens.stock,
    scale: eye.scale,
    shapes: [
      ...walls([slab], { eye, from: at.bottom, to: 0, colour: tokens.glass, inside: false, piece: Infinity }),
      ...hollow,
      { kind: "area", outlines: flat([slab, ...layers.recess], 0), fill: tokens.glass, stroke: edge },
      { kind: "area", outlines: flat(layers.metal, at.metal), fill: tokens.metal, stroke: edge },
      ...walls(layers.silicon, { eye, from: at.silicon, to: at.top, colour: tokens.silicon, inside: false, piece }),
      { kind: "area", outlines: flat(layers.moving, at.top), fill: tokens.silicon },
      { kind: "area", outlines: flat(layers.anchors, at.top), fill: tokens.anchors },
      ...flat(layers.silicon, at.top).map((points): Shape => ({ kind: "line", points, closed: true, stroke: edge })),
    ],
  };
}

/** The layers from the glass up, as rows of a table: their outlines and between which heights they stand. */
export function tableOfStack(layers: DeviceLayers): string {
  const { thickness, depth } = layers;
  const rows = (
    [
      ["recess in the glass", layers.recess, -(depth ?? 0), 0],
      ["metal", layers.metal, 0, 0],
      ["silicon, bonded", layers.anchors, 0, thickness],
      ["silicon, free", layers.moving, 0, thickness],
    ] as const
  ).flatMap(([name, outlines, from, to]) =>
    outlines.flatMap((points, outline) =>
      Array.from(
        { length: points.length / 2 },
        (_, i) => `"${name}",${outline + 1},${points[2 * i]!},${points[2 * i + 1]!},${from},${to}`,
      ),
    ),
  );
  return `layer,outline,x (m),y (m),from (m),to (m)\n${rows.join("\n")}\n`;
}
