/** The marks on a rail: ring as drawn, dot with its lens as built, diamond measured, arrowheads off the scale. Main test: rail-picture.test.ts. */
import { layout, type RailLine, type RailMark, railHeight } from "./rail-layout.ts";
import { diamond, round, svgLine, svgText } from "./svg-text.ts";

/** Density of a normal spread about a mark, out to 2.3 standard deviations. */
export function lens(line: RailLine, mark: RailMark): string {
  const { sigma, margin } = mark;
  if (sigma === undefined || !(sigma > 0)) return "";
  const reach = 2.3;
  const points = Array.from({ length: 25 }, (_, i) => -reach + (2 * reach * i) / 24);
  const clamp = (x: number): number => Math.min(Math.max(x, layout.railStart), layout.railEnd);
  const tip = Math.exp(-(reach ** 2) / 2);
  const side = (sign: number) => (z: number) => {
    const x = clamp(line.xOf(margin + z * sigma));
    return `${round(x)} ${round(railHeight(line, x) - (sign * 11 * (Math.exp(-z * z * 0.5) - tip)) / (1 - tip))}`;
  };
  const outline = [...points.map(side(1)), ...[...points].reverse().map(side(-1))];
  return `<path d="M${outline.join("L")}Z" fill="${line.tokens.ink3}" fill-opacity="0.42"/>`;
}

interface PlacedMark {
  readonly kind: "ring" | "dot" | "diamond";
  readonly mark: RailMark;
  readonly x: number;
  /** Below the rail, [px]; negative above. */
  readonly stem: number;
}

/** Marks on the scale with their stems: the dot stays on the rail, others step off it where they come within 6 px. */
export function placeMarks(line: RailLine): readonly PlacedMark[] {
  const { drawn, built, measured } = line.row;
  const onScale = (mark: RailMark | undefined): mark is RailMark =>
    mark !== undefined && line.xOf(mark.margin) >= layout.railStart && line.xOf(mark.margin) <= layout.railEnd;
  const placed: PlacedMark[] = [];
  const near = (x: number): boolean => placed.some((other) => Math.abs(other.x - x) < 12 && other.stem === 0);
  if (onScale(built)) placed.push({ kind: "dot", mark: built, x: line.xOf(built.margin), stem: 0 });
  if (onScale(measured)) {
    const x = line.xOf(measured.margin);
    placed.push({ kind: "diamond", mark: measured, x, stem: near(x) ? -12 : 0 });
  }
  if (onScale(drawn)) {
    const x = line.xOf(drawn.margin);
    placed.push({ kind: "ring", mark: drawn, x, stem: near(x) ? 12 : 0 });
  }
  const order = { ring: 0, dot: 1, diamond: 2 } as const;
  return placed.sort((a, b) => order[a.kind] - order[b.kind]);
}

export function drawMark(line: RailLine, placed: PlacedMark): string {
  const { tokens } = line;
  const { x, stem, kind, mark } = placed;
  const y = railHeight(line, x) + stem;
  const post = stem === 0 ? "" : svgLine(`M${round(x)} ${round(y)}v${-stem}`, { stroke: tokens.ink2, width: 1.25 });
  if (kind === "dot") return `${post}<circle cx="${round(x)}" cy="${round(y)}" r="5.5" fill="${tokens.ink}"/>`;
  if (kind === "ring") {
    return `${post}<circle cx="${round(x)}" cy="${round(y)}" r="5" fill="${tokens.sheet}" stroke="${tokens.ink}" stroke-width="1.75"/>`;
  }
  const reach = line.xOf(mark.margin + (mark.sigma ?? 0)) - x;
  const from = Math.max(layout.railStart, x - reach);
  const bar =
    reach > 0
      ? svgLine(`M${round(from)} ${round(y)}H${round(Math.min(layout.railEnd, x + reach))}`, {
          stroke: tokens.measured,
          width: 2.25,
        })
      : "";
  return `${post}${bar}${diamond([x, y], { fill: tokens.measured })}`;
}

/** Arrowheads with the margin beside them for marks beyond either end. */
export function offScale(line: RailLine): readonly string[] {
  const { drawn, built, measured } = line.row;
  const { tokens } = line;
  const beyond = { left: [] as string[], right: [] as string[] };
  for (const [mark, word] of [
    [built, "built"],
    [drawn, "drawn"],
    [measured, "measured"],
  ] as const) {
    if (mark === undefined) continue;
    const x = line.xOf(mark.margin);
    const text = `${word} ${percent(mark.margin)}`;
    if (x < layout.railStart) beyond.left.push(text);
    if (x > layout.railEnd) beyond.right.push(text);
  }
  const head = (side: "left" | "right"): readonly string[] => {
    if (beyond[side].length === 0) return [];
    const right = side === "right";
    const x = right ? layout.railEnd : layout.railStart;
    const y = railHeight(line, x);
    const turn = right ? -1 : 1;
    return [
      `<path d="M${round(x - 2 * turn)} ${round(y)}l${9 * turn} -5v10z" fill="${tokens.ink}"/>`,
      svgText(beyond[side].join(", "), {
        at: [x + 12 * turn, y - 7],
        kind: "tick",
        fill: tokens.ink2,
        anchor: right ? "end" : "start",
      }),
    ];
  };
  return [...head("left"), ...head("right")];
}

export function percent(margin: number): string {
  const value = Math.round(margin * 100);
  return `${value > 0 ? "+" : value < 0 ? "\u2212" : ""}${Math.abs(value)} %`;
}
