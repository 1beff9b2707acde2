/**
 * A region plot as SVG text in the house look: where a design may live over two quantities. Free ground is bare, forbidden ground is
 * stippled, each edge carries its limit along the curve, chance contours say "90 in 100", the design is a bead and the best one a cross.
 * Main test: region-plot.test.ts.
 */
import { layoutRegion, type RegionFrame, type RegionLayout, type RegionParts, type WordsPlace } from "./region-layout.ts";
import { round, svgDocument, svgLine, svgText, textWidth } from "./svg-text.ts";
import { niceTicks, tickTexts } from "./ticks.ts";
import { paper, type Tokens } from "./tokens.ts";

export interface RegionAxis {
  readonly name: string;
  readonly unit: string;
  /** In display units, like all that follows. */
  readonly low: number;
  readonly high: number;
}

export interface RegionPlotOptions extends RegionParts {
  readonly title: string;
  /** Under the title, for example what the ground stands for. */
  readonly note: string;
  readonly x: RegionAxis;
  readonly y: RegionAxis;
  readonly design?: { readonly label: string; readonly x: number; readonly y: number };
  readonly best?: { readonly label: string; readonly x: number; readonly y: number };
  readonly tokens?: Tokens;
}

const size = { width: 860, height: 620, left: 72, right: 24, top: 96, bottom: 60 } as const;
const frame: RegionFrame = { left: size.left, right: size.width - size.right, top: size.top, base: size.height - size.bottom };

interface View {
  readonly tokens: Tokens;
  readonly place: RegionLayout["place"];
}

type Point = ReturnType<RegionLayout["place"]>;

function wordsAlong(words: string, { at: [x, y], turn }: WordsPlace, fill: string): string {
  const placedText = svgText(words, { at: [0, -6], kind: "caption", fill, anchor: "middle" });
  return `<g transform="translate(${round(x)} ${round(y)}) rotate(${round(turn)})">${placedText}</g>`;
}

function axes(options: RegionPlotOptions, { tokens, place }: View): readonly string[] {
  const { x, y } = options;
  const [xTicks, yTicks] = [niceTicks(x.low, x.high), niceTicks(y.low, y.high)];
  const [xTexts, yTexts] = [tickTexts(xTicks), tickTexts(yTicks)];
  const named = ({ name, unit }: RegionAxis): string => (unit === "" ? name : `${name}, ${unit}`);
  return [
    svgLine(`M${size.left} ${size.top}V${frame.base}H${frame.right}`, { stroke: tokens.ink, width: 1.25 }),
    ...xTicks.flatMap((tick, i) => {
      const [at] = place(tick, y.low);
      return [
        svgLine(`M${round(at)} ${frame.base}v6`, { stroke: tokens.ink3, width: 1.25 }),
        svgText(xTexts[i]!, { at: [at, frame.base + 21], kind: "tick", fill: tokens.ink2, anchor: "middle" }),
      ];
    }),
    ...yTicks.flatMap((tick, i) => {
      const [, at] = place(x.low, tick);
      return [
        svgLine(`M${size.left} ${round(at)}h-6`, { stroke: tokens.ink3, width: 1.25 }),
        svgText(yTexts[i]!, { at: [size.left - 10, at + 4], kind: "tick", fill: tokens.ink2, anchor: "end" }),
      ];
    }),
    svgText(named(x), { at: [frame.right, frame.base + 44], kind: "caption", fill: tokens.ink2, anchor: "end" }),
    svgText(named(y), { at: [size.left - 10, size.top - 12], kind: "caption", fill: tokens.ink2 }),
  ];
}

function marks(options: RegionPlotOptions, { tokens, place }: View): readonly string[] {
  const { best, design } = options;
  const label = (words: string, [x, y]: Point): string => {
    const flips = x + 12 + textWidth(words, { size: 14 }) > frame.right;
    return svgText(words, {
      at: [flips ? x - 12 : x + 12, y - 8],
      kind: "label",
      fill: tokens.handle,
      ...(flips && { anchor: "end" as const }),
    });
  };
  const parts: string[] = [];
  if (best !== undefined) {
    const [x, y] = place(best.x, best.y);
    parts.push(
      svgLine(`M${round(x - 6)} ${round(y)}h12M${round(x)} ${round(y - 6)}v12`, { stroke: tokens.handle, width: 2.25 }),
      label(best.label, [x, y]),
    );
  }
  if (design !== undefined) {
    const [x, y] = place(design.x, design.y);
    parts.push(
      svgLine(`M${size.left} ${round(y)}H${round(x)}V${frame.base}`, { stroke: tokens.ink3, width: 0.75, dashes: "2 3" }),
      `<circle cx="${round(x)}" cy="${round(y)}" r="7" fill="${tokens.handle}" stroke="${tokens.stock}" stroke-width="2"/>`,
      label(design.label, [x, y + 26]),
    );
  }
  return parts;
}

/** SVG text of the plot. */
export function regionPlot(options: RegionPlotOptions): string {
  const tokens = options.tokens ?? paper;
  const layout = layoutRegion(options, { frame, size: 13 });
  const view: View = { tokens, place: layout.place };
  const lines = [
    ...layout.edges.map(({ path, bounds }) => svgLine(path, { stroke: tokens.ink, width: bounds ? 2.25 : 1.25 })),
    ...layout.contours.map(({ path }) => svgLine(path, { stroke: tokens.handle, width: 1.25, dashes: "6 4" })),
  ];
  const words = [
    ...layout.edges.flatMap(({ label, words: at, bounds }) =>
      at === undefined ? [] : wordsAlong(label, at, bounds ? tokens.ink : tokens.ink2),
    ),
    ...layout.contours.flatMap(({ label, words: at }) => (at === undefined ? [] : wordsAlong(label, at, tokens.handle))),
  ];
  const clip = `<clipPath id="plane"><rect x="${size.left}" y="${size.top}" width="${frame.right - size.left}" height="${frame.base - size.top}"/></clipPath>`;
  const held = options.edges.filter(({ bounds }) => bounds).map(({ label }) => label);
  const description = `${options.y.name} against ${options.x.name}. ${held.length === 0 ? "No edge bounds free ground here." : `Free ground ends at: ${[...new Set(held)].join("; ")}.`}${options.design === undefined ? "" : ` The design: ${options.design.label}.`}`;
  return svgDocument({ ...size, title: options.title, description, tokens }, [
    clip,
    `<rect x="${size.left}" y="${size.top}" width="${frame.right - size.left}" height="${frame.base - size.top}" fill="${tokens.sheet}"/>`,
    svgText(options.title, { at: [size.left - 10, 36], kind: "title", fill: tokens.ink }),
    svgText(options.note, { at: [size.left - 10, 58], kind: "caption", fill: tokens.ink2 }),
    layout.ground === "" ? "" : `<path d="${layout.ground}" fill="${tokens.ink3}"/>`,
    `<g clip-path="url(#plane)">${lines.join("")}</g>`,
    `<g paint-order="stroke" stroke="${tokens.sheet}" stroke-width="4" stroke-linejoin="round">${words.join("")}</g>`,
    ...axes(options, view),
    ...marks(options, view),
  ]);
}
