/**
 * A device seen from above at true scale: parts as filled outlines on glass, and a field along its beams in the house's field map.
 *
 * Below the picture stand the caption, a scale bar and the colour scale; no axes, no grid. Colour is interpolated between the
 * steps of the map in the device's own colour values: along a beam one flat colour a segment, so that a field that changes by more than
 * a step within a segment wants more segments; over a plate evenly along its axis. Exaggerated motion is the caller's, who says so in
 * the caption. Names of points keep clear of each other (place-labels.ts).
 * Main test: device-picture.test.ts.
 */
import { isolineShapes } from "./isolines.ts";
import { type LabelBox, placeLabels } from "./place-labels.ts";
import { svgOfShapes } from "./scene.ts";
import { round, svgDocument, svgLine, svgText, textWidth } from "./svg-text.ts";
import { paper, type Tokens } from "./tokens.ts";

export interface PicturePart {
  readonly kind: "silicon" | "anchors" | "metal";
  /** Outer boundaries and holes, [x0 y0 x1 y1 ...] each, [m]. */
  readonly outlines: readonly Float64Array[];
  /** Fills it in place of its own colour. */
  readonly field?: PartField;
}

/** A field along a straight axis of a part, the same across it. */
export interface PartField {
  /** [m] */
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
  /** Parts of the way, ascending from 0 to 1. */
  readonly shares: Float64Array;
  /** At each of them, in the unit of the field scale. */
  readonly values: Float64Array;
}

/** A beam as its centre line, filled by a field. */
export interface PictureBeam {
  /** [nPoints x 2] m */
  readonly points: Float64Array;
  /** In-plane width at its start and at its end, linear in between, [m]. */
  readonly widths: readonly [start: number, end: number];
  /** One value a segment (nPoints - 1), in the unit of the field scale; left out: filled as silicon. */
  readonly values?: Float64Array;
}

/** What the colours mean. Values beyond the ends take the colour of the end. */
export interface FieldScale {
  readonly low: number;
  readonly high: number;
  readonly unit: string;
  readonly name: string;
}

export interface PictureLabel {
  readonly text: string;
  /** Where the text stands (its middle), [m]. */
  readonly at: readonly [x: number, y: number];
  /** The point that a leader runs to, [m]. */
  readonly to?: readonly [x: number, y: number];
}

/** A named place, marked by a ring; its name finds its own place beside it. */
export interface PicturePoint {
  readonly text: string;
  /** [m] */
  readonly at: readonly [x: number, y: number];
}

export interface DevicePictureOptions {
  readonly title: string;
  /** From where it is seen, scale, exaggeration. */
  readonly caption: string;
  readonly parts: readonly PicturePart[];
  readonly beams: readonly PictureBeam[];
  readonly labels?: readonly PictureLabel[];
  readonly points?: readonly PicturePoint[];
  /** Lines of what moves where it rests, drawn as dashes behind everything, [m]. */
  readonly rest?: readonly Float64Array[];
  /** Lines at which something stops, [m]. */
  readonly stops?: readonly Float64Array[];
  /** Wanted where there are values. */
  readonly field?: FieldScale;
  /** Labelled lines of equal value over the field. */
  readonly isolines?: boolean;
  readonly tokens?: Tokens;
}

const layout = { width: 828, margin: 16, pad: 36, foot: 44, leastHeight: 160, mostHeight: 620 } as const;

interface View {
  readonly tokens: Tokens;
  /** Pixels a metre. */
  readonly zoom: number;
  readonly height: number;
  readonly place: (x: number, y: number) => readonly [number, number];
}

function viewOf(options: DevicePictureOptions): View {
  let [left, bottom, right, top] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  const include = (points: ArrayLike<number>, around: number): void => {
    for (let i = 0; i + 1 < points.length; i += 2) {
      left = Math.min(left, points[i]! - around);
      right = Math.max(right, points[i]! + around);
      bottom = Math.min(bottom, points[i + 1]! - around);
      top = Math.max(top, points[i + 1]! + around);
    }
  };
  for (const part of options.parts) for (const outline of part.outlines) include(outline, 0);
  for (const beam of options.beams) include(beam.points, Math.max(...beam.widths) / 2);
  for (const label of options.labels ?? []) include(label.at, 0);
  for (const line of [...(options.rest ?? []), ...(options.stops ?? [])]) include(line, 0);
  if (!(right > left || top > bottom))
    throw new RangeError("Cannot draw a device: wanted at least one part or beam with a size, found none");
  const inner = { width: layout.width - 2 * layout.pad, height: layout.mostHeight - 2 * layout.pad };
  const zoom = Math.min(inner.width / (right - left), inner.height / (top - bottom));
  const height = Math.max(layout.leastHeight, Math.round(zoom * (top - bottom)) + 2 * layout.pad);
  const [cx, cy] = [(left + right) / 2, (bottom + top) / 2];
  return {
    tokens: options.tokens ?? paper,
    zoom,
    height,
    place: (x, y) => [layout.width / 2 + zoom * (x - cx), height / 2 - zoom * (y - cy)],
  };
}

/** Colour of a share from 0 to 1 along a map of colours "#RRGGBB". */
export function colourOfShare(share: number, map: readonly string[]): string {
  const place = Math.min(Math.max(share, 0), 1) * (map.length - 1);
  const below = Math.min(Math.floor(place), map.length - 2);
  const channel = (colour: string, at: number): number => Number.parseInt(colour.slice(at, at + 2), 16);
  const mixed = [1, 3, 5].map((at) => {
    const from = channel(map[below]!, at);
    return Math.round(from + (place - below) * (channel(map[below + 1]!, at) - from));
  });
  return `#${mixed.map((value) => value.toString(16).padStart(2, "0").toUpperCase()).join("")}`;
}

function openPath(line: ArrayLike<number>, { place }: View): string {
  const points: string[] = [];
  for (let i = 0; i + 1 < line.length; i += 2)
    points.push(
      place(line[i]!, line[i + 1]!)
        .map(round)
        .join(" "),
    );
  return `M${points.join("L")}`;
}

function closedPath(outline: ArrayLike<number>, view: View): string {
  return `${openPath(outline, view)}Z`;
}

/** Names of gradients must differ between pictures on one page. */
function gradientName(title: string, index: number): string {
  return `along-${title.toLowerCase().replaceAll(/[^a-z0-9]+/g, "-")}-${index}`;
}

function colourOf(value: number, at: { readonly view: View; readonly scale: FieldScale }): string {
  return colourOfShare((value - at.scale.low) / (at.scale.high - at.scale.low), at.view.tokens.ember);
}

function gradient(field: PartField, at: { readonly name: string; readonly view: View; readonly scale: FieldScale }): string {
  const [from, to] = [at.view.place(...field.from), at.view.place(...field.to)];
  const stops = [...field.shares].map(
    (share, i) => `<stop offset="${round(share)}" stop-color="${colourOf(field.values[i]!, at)}"/>`,
  );
  const ends = `x1="${round(from[0])}" y1="${round(from[1])}" x2="${round(to[0])}" y2="${round(to[1])}"`;
  return `<linearGradient id="${at.name}" gradientUnits="userSpaceOnUse" ${ends}>${stops.join("")}</linearGradient>`;
}

function partPaths(
  part: PicturePart,
  index: number,
  options: { view: View; title: string; scale: FieldScale | undefined },
): string {
  const { view, title, scale } = options;
  const { tokens } = view;
  const path = part.outlines.map((outline) => closedPath(outline, view)).join("");
  const name = gradientName(title, index);
  const isFilled = part.field !== undefined && scale !== undefined;
  const before = isFilled ? gradient(part.field, { name, view, scale }) : "";
  const fill = isFilled ? `url(#${name})` : tokens[part.kind];
  // the outlines of many openings would fill them
  const width = part.outlines.length > 8 ? 0.3 : 0.75;
  return `${before}<path d="${path}" fill="${fill}" fill-rule="evenodd" stroke="${tokens.ink2}" stroke-width="${width}" stroke-linejoin="round"/>`;
}

/** Left and right edge points at each point of a beam's centre line; at a bend they lie on the bisector, so segments join without gaps. */
function beamEdges(beam: PictureBeam): { readonly left: Float64Array; readonly right: Float64Array } {
  const n = beam.points.length / 2;
  const at = (i: number): readonly [number, number] => [beam.points[2 * i]!, beam.points[2 * i + 1]!];
  const normal = (i: number): readonly [number, number] => {
    const [[x0, y0], [x1, y1]] = [at(i), at(i + 1)];
    const length = Math.hypot(x1 - x0, y1 - y0);
    return [-(y1 - y0) / length, (x1 - x0) / length];
  };
  const left = new Float64Array(2 * n);
  const right = new Float64Array(2 * n);
  const lengths = Array.from({ length: n - 1 }, (_, i) => Math.hypot(at(i + 1)[0] - at(i)[0], at(i + 1)[1] - at(i)[1]));
  const whole = lengths.reduce((sum, length) => sum + length, 0);
  let along = 0;
  for (let i = 0; i < n; i++) {
    if (i > 0) along += lengths[i - 1]!;
    const width = beam.widths[0] + ((beam.widths[1] - beam.widths[0]) * along) / whole;
    const before = normal(Math.max(0, i - 1));
    const after = normal(Math.min(n - 2, i));
    const [sx, sy] = [before[0] + after[0], before[1] + after[1]];
    const stretch = width / Math.max(sx * sx + sy * sy, 0.5);
    const [x, y] = at(i);
    left.set([x + sx * stretch, y + sy * stretch], 2 * i);
    right.set([x - sx * stretch, y - sy * stretch], 2 * i);
  }
  return { left, right };
}

/** Segments in the colours of the field. */
function segmentPaths(beam: PictureBeam, edges: ReturnType<typeof beamEdges>, at: { view: View; scale: FieldScale }): string[] {
  const { left, right } = edges;
  return Array.from({ length: beam.points.length / 2 - 1 }, (_, i) => {
    const quad = [...right.slice(2 * i, 2 * i + 4), left[2 * i + 2]!, left[2 * i + 3]!, left[2 * i]!, left[2 * i + 1]!];
    const colour = colourOf(beam.values![i]!, at);
    // A hair of its own colour round each segment hides the seams that anti-aliasing leaves.
    return `<path d="${closedPath(quad, at.view)}" fill="${colour}" stroke="${colour}" stroke-width="0.5"/>`;
  });
}

function beamPaths(beam: PictureBeam, options: { view: View; scale: FieldScale | undefined }): readonly string[] {
  const { view, scale } = options;
  const nSegments = beam.points.length / 2 - 1;
  const nValues = beam.values?.length ?? nSegments;
  if (nSegments < 1 || nValues !== nSegments)
    throw new RangeError(`Cannot draw a beam: wanted one value a segment (${Math.max(0, nSegments)}), found ${nValues}`);
  if (beam.values !== undefined && !(scale !== undefined && scale.high > scale.low))
    throw new RangeError("Cannot draw beams: wanted a field scale whose high end lies above its low end, found none");
  const edges = beamEdges(beam);
  const rim = [...edges.right];
  for (let i = edges.left.length - 2; i >= 0; i -= 2) rim.push(edges.left[i]!, edges.left[i + 1]!);
  const whole = closedPath(rim, view);
  // on a thin beam the outline would hide the field
  const width = Math.max(0.3, Math.min(0.75, Number((0.12 * view.zoom * Math.min(...beam.widths)).toFixed(2))));
  return [
    ...(beam.values === undefined || scale === undefined
      ? [`<path d="${whole}" fill="${view.tokens.silicon}"/>`]
      : segmentPaths(beam, edges, { view, scale })),
    svgLine(whole, { stroke: view.tokens.ink2, width }),
  ];
}

function labelParts(label: PictureLabel, { place, tokens }: View): readonly string[] {
  const [x, y] = place(...label.at);
  const words = svgText(label.text, { at: [x, y + 5], kind: "part", fill: tokens.ink, anchor: "middle" });
  if (label.to === undefined) return [words];
  const [toX, toY] = place(...label.to);
  const half = textWidth(label.text, { size: 15 }) / 2 + 5;
  const beside = Math.abs(toX - x) > half;
  const from = beside ? ([x + Math.sign(toX - x) * half, y] as const) : ([x, y + Math.sign(toY - y) * 12] as const);
  return [svgLine(`M${from.map(round).join(" ")}L${round(toX)} ${round(toY)}`, { stroke: tokens.ink2, width: 1.25 }), words];
}

/** Rings at named places and their names beside them, with leaders where a name had to go further away. */
function pointParts(points: readonly PicturePoint[], view: View): readonly string[] {
  const { tokens, place, height } = view;
  const size = 13;
  const wanted = points.map(({ text, at }) => ({ at: place(...at), width: textWidth(text, { size }) + 6, height: size + 4 }));
  const boxes = placeLabels(wanted, { width: layout.width, height });
  const rings = wanted.map(({ at: [x, y] }) => {
    const circle = `cx="${round(x)}" cy="${round(y)}" r="2.5"`;
    return `<circle ${circle} fill="${tokens.sheet}" stroke="${tokens.handle}" stroke-width="1.25"/>`;
  });
  const leaders = boxes.map((box, i) => leaderOf(box, { at: wanted[i]!.at, tokens }));
  const names = boxes.map((box, i) => {
    const ground = `<rect x="${round(box.left)}" y="${round(box.top)}" width="${round(box.width)}" height="${box.height}" rx="2" fill="${tokens.sheet}" fill-opacity="0.82"/>`;
    const at = [box.left + box.width / 2, box.top + box.height - 4.5] as const;
    return ground + svgText(points[i]!.text, { at, kind: "caption", fill: tokens.ink, anchor: "middle" });
  });
  return [...leaders, ...rings, ...names];
}

function leaderOf(box: LabelBox, options: { at: readonly [number, number]; tokens: Tokens }): string {
  const [x, y] = options.at;
  const to = [
    Math.min(Math.max(x, box.left), box.left + box.width),
    Math.min(Math.max(y, box.top), box.top + box.height),
  ] as const;
  if (Math.hypot(to[0] - x, to[1] - y) < 12) return "";
  return svgLine(`M${round(x)} ${round(y)}L${round(to[0])} ${round(to[1])}`, { stroke: options.tokens.ink2, width: 0.75 });
}

function restPaths(rest: readonly Float64Array[], view: View): readonly string[] {
  if (rest.length === 0) return [];
  const path = rest.map((line) => openPath(line, view)).join("");
  return [svgLine(path, { stroke: view.tokens.ink3, width: 0.75, dashes: "4 3" })];
}

function isolinePaths({ field, isolines, beams, parts }: DevicePictureOptions, view: View): readonly string[] {
  if (isolines !== true || field === undefined) return [];
  const shapes = isolineShapes(
    {
      ...field,
      beams: beams.flatMap(({ points, widths, values }) => (values === undefined ? [] : [{ points, widths, values }])),
      plates: parts.flatMap(({ kind, outlines, field: own }) =>
        own === undefined || kind !== "silicon" ? [] : [{ outline: outlines[0]!, ...own }],
      ),
    },
    { ...view, width: layout.width },
  );
  return svgOfShapes(shapes);
}

/** A stop as a fence: a heavy line. */
function stopPaths(stops: readonly Float64Array[], { place, tokens }: View): readonly string[] {
  return stops.map((line) => {
    const [from, to] = [place(line[0]!, line[1]!), place(line[2]!, line[3]!)];
    return svgLine(`M${from.map(round).join(" ")}L${to.map(round).join(" ")}`, { stroke: tokens.ink, width: 2.25 });
  });
}

/** Longest of 1, 2, 5 times a power of ten that fits, [m]. */
function roundLength(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most) + 1e-9);
  return [5, 2, 1].map((factor) => factor * power).find((length) => length <= most * (1 + 1e-9)) ?? power;
}

function lengthText(metres: number): string {
  return metres >= 0.9999e-3
    ? `${round(metres * 1e3)} mm`
    : metres >= 0.9999e-6
      ? `${round(metres * 1e6)} µm`
      : `${round(metres * 1e9)} nm`;
}

function footParts(options: DevicePictureOptions, view: View): readonly string[] {
  const { tokens } = view;
  const y = view.height + 24;
  const length = roundLength(90 / view.zoom);
  const barLength = length * view.zoom;
  const words = lengthText(length);
  const fieldWidth = options.field === undefined ? 0 : 300;
  const barEnd = layout.width - fieldWidth - textWidth(words, { size: 13 }) - 16;
  const bar = svgLine(`M${round(barEnd - barLength)} ${y - 9}v10m0 -5H${round(barEnd)}m0 -5v10`, {
    stroke: tokens.ink,
    width: 1.25,
  });
  return [
    svgText(options.caption, { at: [0, y], kind: "caption", fill: tokens.ink2 }),
    bar,
    svgText(words, { at: [barEnd + 8, y], kind: "caption", fill: tokens.ink2 }),
    ...(options.field === undefined ? [] : colourScale(options.field, { tokens, y })),
  ];
}

function colourScale(field: FieldScale, options: { tokens: Tokens; y: number }): readonly string[] {
  const { tokens, y } = options;
  const end = layout.width - 62;
  const [step, n] = [9, tokens.ember.length];
  const start = end - step * n;
  const unit = field.unit === "" ? "" : ` ${field.unit}`;
  return [
    svgText(`${field.name}, ${round(field.low)}`, { at: [start - 8, y], kind: "caption", fill: tokens.ink2, anchor: "end" }),
    ...tokens.ember.map(
      (colour, i) => `<rect x="${start + step * i}" y="${y - 10}" width="${step + 0.5}" height="10" fill="${colour}"/>`,
    ),
    svgText(`${round(field.high)}${unit}`, { at: [end + 8, y], kind: "caption", fill: tokens.ink2 }),
  ];
}

/** SVG text of the picture. */
export function devicePicture(options: DevicePictureOptions): string {
  const view = viewOf(options);
  const { field, beams } = options;
  const shown = options.parts.map((part, index) => ({
    isUnder: part.kind === "metal",
    path: partPaths(part, index, { view, title: options.title, scale: field }),
  }));
  const frame = {
    width: layout.width + 2 * layout.margin,
    height: view.height + layout.foot + layout.margin,
    title: options.title,
    description: options.caption,
    tokens: view.tokens,
  };
  return svgDocument(frame, [
    `<g transform="translate(${layout.margin} ${layout.margin})">`,
    `<rect width="${layout.width}" height="${view.height}" rx="2" fill="${view.tokens.glass}"/>`,
    ...shown.filter(({ isUnder }) => isUnder).map(({ path }) => path),
    ...restPaths(options.rest ?? [], view),
    // bodies cover the ends of beams that reach into them
    ...beams.flatMap((beam) => beamPaths(beam, { view, scale: field })),
    ...shown.filter(({ isUnder }) => !isUnder).map(({ path }) => path),
    ...isolinePaths(options, view),
    ...stopPaths(options.stops ?? [], view),
    ...(options.labels ?? []).flatMap((label) => labelParts(label, view)),
    ...pointParts(options.points ?? [], view),
    ...footParts(options, view),
    "</g>",
  ]);
}
