/** The few words of SVG that all pictures share: text, numbers, frame. The same input gives the same text. */
import type { Tokens } from "./tokens.ts";

export function escapeText(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
}

/** A number with at most three decimals; no negative zero. */
export function round(value: number): string {
  return String(Number(value.toFixed(3)) + 0);
}

const serif = 'font-family="Literata, Georgia, serif"';
const sans = 'font-family="Source Sans 3, Source Sans Pro, sans-serif"';

/** Kinds of text by their place in a picture, after the house's type scale. */
const kinds = {
  title: `${serif} font-size="18" font-weight="500"`,
  name: `${serif} font-size="15" font-weight="500"`,
  part: `${serif} font-size="15" font-style="italic"`,
  word: `${serif} font-size="15" font-weight="600"`,
  label: `${sans} font-size="14"`,
  caption: `${sans} font-size="13"`,
  tick: `${sans} font-size="12"`,
} as const;

export interface TextOptions {
  readonly at: readonly [x: number, y: number];
  readonly kind: keyof typeof kinds;
  readonly fill: string;
  readonly anchor?: "start" | "middle" | "end";
  /** Words of another kind that stand before these in the same line. */
  readonly lead?: { readonly words: string; readonly kind: keyof typeof kinds; readonly fill: string };
}

export function svgText(words: string, options: TextOptions): string {
  const anchor = options.anchor === undefined || options.anchor === "start" ? "" : ` text-anchor="${options.anchor}"`;
  const [x, y] = options.at;
  const { lead } = options;
  const before = lead === undefined ? "" : `<tspan ${kinds[lead.kind]} fill="${lead.fill}">${escapeText(lead.words)}</tspan>`;
  return `<text x="${round(x)}" y="${round(y)}" ${kinds[options.kind]} fill="${options.fill}"${anchor}>${before}${escapeText(words)}</text>`;
}

/** Rough width of a text [px]: mean width of the letters of the sans family, enough to keep labels apart. */
export function textWidth(words: string, options: { size: number }): number {
  return words.length * options.size * 0.53;
}

export interface SvgFrame {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  /** What the picture shows, for those who cannot see it. */
  readonly description: string;
  readonly tokens: Tokens;
}

/** A whole SVG document with its title and description. */
export function svgDocument(frame: SvgFrame, parts: readonly string[]): string {
  const [width, height] = [round(frame.width), round(frame.height)];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img" aria-label="${escapeText(frame.title)}">`,
    `<title>${escapeText(frame.title)}</title>`,
    `<desc>${escapeText(frame.description)}</desc>`,
    `<rect width="${width}" height="${height}" fill="${frame.tokens.stock}"/>`,
    ...parts,
    "</svg>",
    "",
  ].join("\n");
}

/** A stroked path without fill. */
export function svgLine(path: string, options: { stroke: string; width: number; dashes?: string }): string {
  const dashes = options.dashes === undefined ? "" : ` stroke-dasharray="${options.dashes}"`;
  return `<path d="${path}" fill="none" stroke="${options.stroke}" stroke-width="${options.width}" stroke-linejoin="round"${dashes}/>`;
}

/** Dots on forbidden ground, as small squares in one path, so that they print as vectors. */
export function stipple(box: { left: number; top: number; right: number; bottom: number }, options: { fill: string }): string {
  const step = 6;
  let path = "";
  let odd = false;
  for (let y = box.top + step / 2; y < box.bottom; y += step, odd = !odd) {
    for (let x = box.left + (odd ? step : step / 2); x < box.right; x += step) path += `M${round(x)} ${round(y)}h1v1h-1z`;
  }
  return path === "" ? "" : `<path d="${path}" fill="${options.fill}"/>`;
}

/** A filled diamond about a point. */
export function diamond(at: readonly [x: number, y: number], options: { fill: string }): string {
  return `<path d="M${round(at[0])} ${round(at[1] - 6)}l6 6l-6 6l-6 -6z" fill="${options.fill}"/>`;
}
