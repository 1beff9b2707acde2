/**
 * A picture as a list of shapes in pixels, from back to front: the page paints it on a canvas, and the same list is saved as SVG, so that
 * what is saved is what was seen. Main test: scene.test.ts.
 */
import { escapeText, round, svgDocument, svgLine, svgText } from "./svg-text.ts";
import type { Tokens } from "./tokens.ts";

/** Colours along a straight line. */
export interface Gradient {
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
  /** Parts of the way, ascending from 0 to 1. */
  readonly stops: readonly (readonly [share: number, colour: string])[];
}

export interface Stroke {
  readonly colour: string;
  /** [px] */
  readonly width: number;
  readonly dashes?: readonly number[];
}

/** Outlines are closed and filled by the even-odd rule, [n × 2] px each; y runs down. */
export type Shape =
  | {
      readonly kind: "area";
      readonly outlines: readonly Float64Array[];
      readonly fill: string | Gradient;
      readonly stroke?: Stroke;
    }
  | { readonly kind: "line"; readonly points: Float64Array; readonly closed?: boolean; readonly stroke: Stroke }
  | {
      readonly kind: "words";
      readonly at: readonly [x: number, y: number];
      readonly words: string;
      readonly fill: string;
      /** Painted round the letters, so that they read on any ground. */
      readonly halo?: string;
      readonly anchor?: "start" | "middle" | "end";
    }
  | {
      readonly kind: "ring";
      readonly at: readonly [x: number, y: number];
      readonly radius: number;
      readonly fill?: string;
      readonly stroke: Stroke;
    }
  | { readonly kind: "inside"; readonly outlines: readonly Float64Array[]; readonly shapes: readonly Shape[] };

export interface Scene {
  /** [px] */
  readonly width: number;
  readonly height: number;
  readonly ground: string;
  readonly shapes: readonly Shape[];
}

/** Size of the words in a scene, [px]. */
export const wordSize = 13;
const [margin, foot] = [16, 40];

function pathOf(points: Float64Array, closed: boolean): string {
  let path = "";
  for (let i = 0; i < points.length; i += 2) path += `${i === 0 ? "M" : "L"}${round(points[i]!)} ${round(points[i + 1]!)}`;
  return closed ? `${path}Z` : path;
}

const dashesOf = ({ dashes }: Stroke): string => (dashes === undefined ? "" : ` stroke-dasharray="${dashes.join(" ")}"`);

/** Names of gradients and clips count through one document. */
class Definitions {
  private readonly made: string[] = [];

  add(write: (id: string) => string): string {
    const id = `d${this.made.length}`;
    this.made.push("");
    this.made[this.made.length - 1] = write(id);
    return id;
  }

  get text(): string {
    return this.made.length === 0 ? "" : `<defs>${this.made.join("")}</defs>`;
  }
}

function fillOf(fill: string | Gradient, definitions: Definitions): string {
  if (typeof fill === "string") return fill;
  const [[x1, y1], [x2, y2]] = [fill.from, fill.to];
  const stops = fill.stops.map(([share, colour]) => `<stop offset="${round(share)}" stop-color="${colour}"/>`).join("");
  const ends = `x1="${round(x1)}" y1="${round(y1)}" x2="${round(x2)}" y2="${round(y2)}"`;
  const id = definitions.add(
    (name) => `<linearGradient id="${name}" gradientUnits="userSpaceOnUse" ${ends}>${stops}</linearGradient>`,
  );
  return `url(#${id})`;
}

function shapeText(shape: Shape, definitions: Definitions): string {
  switch (shape.kind) {
    case "area": {
      const path = shape.outlines.map((points) => pathOf(points, true)).join("");
      const { stroke } = shape;
      const edge =
        stroke === undefined
          ? ""
          : ` stroke="${stroke.colour}" stroke-width="${stroke.width}" stroke-linejoin="round"${dashesOf(stroke)}`;
      return `<path d="${path}" fill="${fillOf(shape.fill, definitions)}" fill-rule="evenodd"${edge}/>`;
    }
    case "line": {
      const { colour, width, dashes } = shape.stroke;
      const options = { stroke: colour, width, ...(dashes !== undefined && { dashes: dashes.join(" ") }) };
      return svgLine(pathOf(shape.points, shape.closed === true), options);
    }
    case "words": {
      const options = { at: shape.at, kind: "caption", anchor: shape.anchor ?? "start" } as const;
      const words = svgText(shape.words, { ...options, fill: shape.fill });
      if (shape.halo === undefined) return words;
      const around = svgText(shape.words, { ...options, fill: shape.halo });
      return around.replace("<text ", `<text stroke="${shape.halo}" stroke-width="3" stroke-linejoin="round" `) + words;
    }
    case "ring": {
      const [x, y] = shape.at;
      const { colour, width } = shape.stroke;
      return `<circle cx="${round(x)}" cy="${round(y)}" r="${round(shape.radius)}" fill="${shape.fill ?? "none"}" stroke="${colour}" stroke-width="${width}"${dashesOf(shape.stroke)}/>`;
    }
    case "inside": {
      const path = shape.outlines.map((points) => pathOf(points, true)).join("");
      const id = definitions.add((name) => `<clipPath id="${name}"><path d="${path}" clip-rule="evenodd"/></clipPath>`);
      return `<g clip-path="url(#${id})">${shape.shapes.map((inner) => shapeText(inner, definitions)).join("")}</g>`;
    }
  }
}

/** Shapes as SVG text, to stand in another document. */
export function svgOfShapes(shapes: readonly Shape[]): readonly string[] {
  const definitions = new Definitions();
  const texts = shapes.map((shape) => shapeText(shape, definitions));
  return [definitions.text, ...texts];
}

/** The whole picture with its caption below it, in as many lines as are given. */
export function svgOfScene(
  scene: Scene,
  options: { readonly title: string; readonly caption: readonly string[]; readonly tokens: Tokens },
): string {
  const { title, caption, tokens } = options;
  const definitions = new Definitions();
  const whole = `M0 0H${round(scene.width)}V${round(scene.height)}H0Z`;
  const clip = definitions.add((id) => `<clipPath id="${id}"><path d="${whole}"/></clipPath>`);
  const shapes = scene.shapes.map((shape) => shapeText(shape, definitions));
  const height = scene.height + 2 * margin + foot + 18 * (caption.length - 1);
  return svgDocument({ width: scene.width + 2 * margin, height, title, description: caption.join(" "), tokens }, [
    definitions.text,
    `<g transform="translate(${margin} ${margin})">`,
    `<path d="${whole}" fill="${escapeText(scene.ground)}"/>`,
    `<g clip-path="url(#${clip})">`,
    ...shapes,
    "</g>",
    ...caption.map((words, i) =>
      svgText(words, { at: [0, scene.height + 24 + 18 * i], kind: "caption", fill: i === 0 ? tokens.ink : tokens.ink2 }),
    ),
    "</g>",
  ]);
}
