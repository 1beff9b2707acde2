/**
 * A mode as a scene: in the plane the device moved to and fro, with where it rests as dashes; out of it the same outlines in lighter and
 * darker steps of the field map, with + where it is up and − where it is down. Main test: modes-scene.test.ts.
 */
import type { ModeView, MovingLine } from "#devices";
import { colourOfShare, type Gradient, type Scene, type Shape, type Tokens } from "#picture";
import { isInside } from "./part-at.ts";
import { ribbon } from "./ribbon.ts";
import { type Frame, type Projection, projection, type Window } from "./window.ts";

/** Largest motion on the screen at most, [px], and times a second that it swings there at most. */
const [largestMotion, fastest] = [28, 0.9];
/** Grid of signs on plates [px], what part of the largest lift gets one, and half of its width [px]. */
const [signStep, signPart, signHalf] = [44, 0.25, 5];

export interface ModeScale {
  /** Times its unrest by heat; undefined where the mode is unstable and has none. */
  readonly times: number | undefined;
  /** Metres drawn for one of the mode's own scale. */
  readonly perUnit: number;
  readonly slowdown: number | undefined;
}

/** The next of 1, 2, 5 times a power of ten, at most or at least this. */
function round125(value: number, side: "at most" | "at least"): number {
  const power = 10 ** Math.floor(Math.log10(value) + 1e-9);
  const steps = [1, 2, 5, 10].map((step) => step * power);
  const [low, high] = [
    steps.filter((step) => step <= value * (1 + 1e-9)).at(-1)!,
    steps.find((step) => step >= value * (1 - 1e-9))!,
  ];
  return side === "at most" ? low : high;
}

/** How large and how slow a mode is drawn at a zoom, [px/m]: in round numbers, so that they can be said. */
export function scaleOfMode({ unrest, largest, frequency }: ModeView, zoom: number): ModeScale {
  const most = largestMotion / (largest * zoom);
  if (!(unrest > 0)) return { times: undefined, perUnit: most, slowdown: undefined };
  const times = round125(most / unrest, "at most");
  return { times, perUnit: times * unrest, slowdown: round125(frequency / fastest, "at least") };
}

const groups = (value: number): string => String(value).replace(/\B(?=(\d{3})+$)/g, "\u00a0");

/** A number that is said with many zeros, in words. */
export function manyTimes(value: number): string {
  for (const [size, word] of [
    [1e9, "thousand million"],
    [1e6, "million"],
  ] as const)
    if (value >= size) return `${groups(value / size)} ${word}`;
  return groups(value);
}

interface Drawn {
  readonly mode: ModeView;
  readonly at: Projection;
  readonly zoom: number;
  readonly tokens: Tokens;
  /** Metres in the plane, or part of the largest lift, for one of the mode's scale, now. */
  readonly share: number;
}

/** A line moved in the plane, in pixels. */
function moved({ points, moves }: MovingLine, { at, share }: Drawn): Float64Array {
  return at.line(points.map((value, i) => value + share * moves[i]!));
}

const liftColour = (part: number, { tokens }: Drawn): string => colourOfShare(0.5 + 0.5 * part, tokens.ember);

/** The plane through the lifts of an outline: a + b x + c y of its pixels, by least squares. */
function planeOf(outline: Float64Array, lifts: Float64Array): readonly [a: number, b: number, c: number] {
  const n = lifts.length;
  let [mx, my, mz] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    mx += outline[2 * i]! / n;
    my += outline[2 * i + 1]! / n;
    mz += lifts[i]! / n;
  }
  let [xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const [x, y, z] = [outline[2 * i]! - mx, outline[2 * i + 1]! - my, lifts[i]! - mz];
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
  }
  const area = xx * yy - xy * xy || 1;
  const [b, c] = [(xz * yy - yz * xy) / area, (yz * xx - xz * xy) / area];
  return [mz - b * mx - c * my, b, c];
}

/** Colours over a plate along the way that its lift grows. */
function liftFill(outline: Float64Array, lifts: Float64Array, drawn: Drawn): string | Gradient {
  const [a, b, c] = planeOf(outline, lifts);
  const steep = Math.hypot(b, c);
  let [low, high] = [Infinity, -Infinity];
  let [from, to] = [[0, 0] as readonly [number, number], [0, 0] as readonly [number, number]];
  for (let i = 0; i < lifts.length; i++) {
    const value = a + b * outline[2 * i]! + c * outline[2 * i + 1]!;
    if (value < low) [low, from] = [value, [outline[2 * i]!, outline[2 * i + 1]!]];
    if (value > high) [high, to] = [value, [outline[2 * i]!, outline[2 * i + 1]!]];
  }
  if (!(high - low > 0.01)) return liftColour(a + (b * (from[0] + to[0]) + c * (from[1] + to[1])) / 2, drawn);
  const way = (high - low) / steep;
  const end = [from[0] + (way * b) / steep, from[1] + (way * c) / steep] as const;
  const stops = [0, 0.25, 0.5, 0.75, 1].map((share) => [share, liftColour(low + share * (high - low), drawn)] as const);
  return { from, to: end, stops };
}

/** A plus or a minus, drawn on a ground of its own so that it reads on every step of the map. */
function sign([x, y]: readonly [number, number], part: number, { tokens }: Drawn): Shape[] {
  if (Math.abs(part) < signPart) return [];
  const strokes = [Float64Array.of(x - signHalf, y, x + signHalf, y)];
  if (part > 0) strokes.push(Float64Array.of(x, y - signHalf, x, y + signHalf));
  const draw = (colour: string, width: number) =>
    strokes.map((points): Shape => ({ kind: "line", points, stroke: { colour, width } }));
  return [...draw(tokens.sheet, 5), ...draw(tokens.ink, 1.75)];
}

function plateSigns(outline: Float64Array, lifts: Float64Array, drawn: Drawn): Shape[] {
  const [a, b, c] = planeOf(outline, lifts);
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < outline.length; i += 2) {
    [left, right] = [Math.min(left, outline[i]!), Math.max(right, outline[i]!)];
    [top, bottom] = [Math.min(top, outline[i + 1]!), Math.max(bottom, outline[i + 1]!)];
  }
  const along = (low: number, high: number): readonly number[] => {
    const n = Math.max(1, Math.floor((high - low) / signStep));
    return Array.from({ length: n }, (_, i) => low + ((i + 0.5) * (high - low)) / n);
  };
  return along(top, bottom).flatMap((y) =>
    along(left, right).flatMap((x) => (isInside([outline], { x, y }) ? sign([x, y], a + b * x + c * y, drawn) : [])),
  );
}

/** The device where it is, `share` of the way. */
function shapesAt(drawn: Drawn): readonly Shape[] {
  const { mode, tokens, zoom, share } = drawn;
  const isFlat = mode.family === "in plane";
  const edge = { colour: tokens.ink2, width: 0.75 };
  const partsOf = (lifts: Float64Array): Float64Array => lifts.map((lift) => share * lift);
  const beams = mode.beams.flatMap((beam): Shape[] => {
    const line = isFlat ? moved(beam, drawn) : drawn.at.line(beam.points);
    const outline = ribbon(line, [beam.widths[0] * zoom, beam.widths[1] * zoom]);
    if (isFlat) return [{ kind: "area", outlines: [outline], fill: tokens.silicon, stroke: edge }];
    const parts = partsOf(beam.lifts);
    const n = parts.length;
    return [
      { kind: "line", points: outline, closed: true, stroke: { colour: tokens.ink2, width: 1.5 } },
      ...Array.from({ length: n - 1 }, (_, i): Shape => {
        const back = 2 * (2 * n - 2 - i);
        const quad = Float64Array.of(...outline.subarray(2 * i, 2 * i + 4), ...outline.subarray(back, back + 4));
        const fill = liftColour((parts[i]! + parts[i + 1]!) / 2, drawn);
        return { kind: "area", outlines: [quad], fill, stroke: { colour: fill, width: 0.5 } };
      }),
    ];
  });
  const bodies = mode.bodies.map(({ kind, outlines }): Shape => {
    const lines = outlines.map((line) => (isFlat ? moved(line, drawn) : drawn.at.line(line.points)));
    const fill =
      kind === "anchor" ? tokens.anchors : isFlat ? tokens.silicon : liftFill(lines[0]!, partsOf(outlines[0]!.lifts), drawn);
    return { kind: "area", outlines: lines, fill, stroke: edge };
  });
  const signs = isFlat
    ? []
    : [
        ...mode.bodies.flatMap(({ kind, outlines }) =>
          kind === "anchor" ? [] : plateSigns(drawn.at.line(outlines[0]!.points), partsOf(outlines[0]!.lifts), drawn),
        ),
      ];
  return [...beams, ...bodies, ...signs];
}

/** Outlines of what moves, as lines of dashes. */
function linesAt(drawn: Drawn, stroke: { readonly colour: string; readonly width: number }): readonly Shape[] {
  const dashed = { ...stroke, dashes: [4, 3] };
  return [
    ...drawn.mode.beams.map((beam): Shape => ({ kind: "line", points: moved(beam, drawn), stroke: dashed })),
    ...drawn.mode.bodies.flatMap(({ kind, outlines }): Shape[] =>
      kind === "anchor" ? [] : [{ kind: "line", points: moved(outlines[0]!, drawn), closed: true, stroke: dashed }],
    ),
  ];
}

/**
 * A mode at a moment: `phase` from -1 to 1 between its extremes; "both" draws the two of them, for who wants no motion and for what is
 * saved. Out of the plane the second extreme is the first with its signs exchanged.
 */
export function modeScene(
  mode: ModeView,
  at: { readonly frame: Frame; readonly window: Window; readonly tokens: Tokens; readonly phase: number | "both" },
): Scene {
  const { frame, window, tokens, phase } = at;
  const isFlat = mode.family === "in plane";
  const unit = isFlat ? scaleOfMode(mode, window.zoom).perUnit : 1 / mode.largest;
  const drawnAt = (share: number): Drawn => ({
    mode,
    at: projection(window, frame),
    zoom: window.zoom,
    tokens,
    share: share * unit,
  });
  const rest = isFlat ? linesAt(drawnAt(0), { colour: tokens.ink3, width: 0.75 }) : [];
  const other = isFlat && phase === "both" ? linesAt(drawnAt(-1), { colour: tokens.handle, width: 1.25 }) : [];
  return {
    width: frame.width,
    height: frame.height,
    ground: tokens.glass,
    shapes: [...rest, ...shapesAt(drawnAt(phase === "both" ? 1 : phase)), ...other],
  };
}

/** The window's lines of a mode. */
export const linesOfMode = (mode: ModeView): readonly Float64Array[] => [
  ...mode.bodies.map(({ outlines }) => outlines[0]!.points),
  ...mode.beams.map(({ points }) => points),
];
