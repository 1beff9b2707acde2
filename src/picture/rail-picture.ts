/**
 * The requirement ledger as rails: one row a requirement, its axis the margin to the limit in per cent, so that all fences line up.
 *
 * Ground short of the limit is stippled. Marks: hollow ring as drawn, solid dot with a lens as built (the lens is the density of a normal
 * spread out to 2.3 standard deviations), diamond with a bar measured. A rail that holds or likely holds is whole, one that is open is cracked at
 * the fence, one that is doubtful or fails is snapped and its short side sags. Where marks lie within 6 px of the dot, or of each other,
 * they step off the rail on a stem. What lies off the scale is an arrowhead at the end with its value beside it.
 * A limit from both sides has two fences and a scale of its own between them: 0 at the lower fence, 100 % in the middle, which is the half
 * width, and the upper fence at 200 %.
 * Main test: rail-picture.test.ts.
 */
import {
  alongRail,
  layout,
  type RailLine,
  type RailMark,
  type RailRow,
  railHeight,
  type Scale,
  scaleOf,
  snapped,
  upperFence,
} from "./rail-layout.ts";
import { drawMark, lens, offScale, percent, placeMarks } from "./rail-marks.ts";
import { diamond, round, stipple, svgDocument, svgLine, svgText, textWidth } from "./svg-text.ts";
import { niceTicks, tickTexts } from "./ticks.ts";
import { paper, type Tokens } from "./tokens.ts";

export interface RailPictureOptions {
  readonly title: string;
  readonly rows: readonly RailRow[];
  readonly tokens?: Tokens;
}

/** No number stands on such a rail. */
const isOpenEnded = (row: RailRow): boolean => row.verdict === "not yet computed" || row.verdict === "to test";

function railLine(line: RailLine): string {
  const { row, y, tokens, fence } = line;
  const { railStart, railEnd } = layout;
  if (row.verdict === "not applicable") return "";
  if (isOpenEnded(row)) return svgLine(`M${railStart} ${y}H${railEnd}`, { stroke: tokens.ink2, width: 1.75, dashes: "1.5 5" });
  if (snapped(row)) {
    const left = `M${railStart} ${y}L${round(fence - 14)} ${round(railHeight(line, fence - 14))}l4 -4l2 6l4 -3`;
    const right = `M${round(fence + 4)} ${y - 5}l3 4l2 -3l4 4H${railEnd}`;
    return svgLine(left + right, { stroke: tokens.ink, width: 2.25 });
  }
  const crack = `H${round(fence - 9)}l3 -6l4 12l4 -12l4 12l3 -6`;
  return svgLine(`M${railStart} ${y}${row.verdict === "open" ? crack : ""}H${railEnd}`, { stroke: tokens.ink, width: 1.25 });
}

function rowTexts(line: RailLine): readonly string[] {
  const { row, y, tokens } = line;
  const baseline = y + 5;
  const right = layout.width - layout.left;
  if (row.verdict === "not applicable") {
    const strike = svgLine(`M${layout.left} ${y}h${round(textWidth(row.name, { size: 15 }))}`, {
      stroke: tokens.ink2,
      width: 1.25,
    });
    const name = svgText(row.name, { at: [layout.left, baseline], kind: "name", fill: tokens.ink2 });
    return [name, strike, svgText(row.chance, { at: [right, baseline], kind: "caption", fill: tokens.ink2, anchor: "end" })];
  }
  const chance = row.chance === "" ? "" : `, ${row.chance}`;
  const word = { words: row.verdict, kind: "word", fill: snapped(row) ? tokens.fail : tokens.ink } as const;
  return [
    ...nameAndLimit(line),
    svgText(row.value, { at: [layout.value, baseline], kind: "caption", fill: tokens.ink }),
    svgText(chance, { at: [right, baseline], kind: "caption", fill: tokens.ink2, anchor: "end", lead: word }),
  ];
}

/** Side by side where there is room, the limit under the name otherwise. */
function nameAndLimit({ row, y, tokens }: RailLine): readonly string[] {
  const room = layout.limitEnd - layout.left - textWidth(row.name, { size: 15 }) - textWidth(row.limit, { size: 13 });
  const apart = room < 20;
  return [
    svgText(row.name, { at: [layout.left, apart ? y - 2 : y + 5], kind: "name", fill: tokens.ink }),
    svgText(row.limit, { at: [layout.limitEnd, apart ? y + 13 : y + 5], kind: "caption", fill: tokens.ink2, anchor: "end" }),
  ];
}

function drawRow(line: RailLine): readonly string[] {
  const { row, tokens } = line;
  const marks = row.verdict === "not applicable" || isOpenEnded(row) ? [] : placeMarks(line);
  return [
    railLine(line),
    row.built === undefined || isOpenEnded(row) ? "" : lens(line, row.built),
    ...marks.map((mark) => drawMark(line, mark)),
    ...(row.verdict === "not applicable" || isOpenEnded(row) ? [] : offScale(line)),
    ...rowTexts(line),
    svgLine(`M${layout.left} ${line.y + layout.row / 2}H${layout.width - layout.left}`, { stroke: tokens.hair, width: 0.75 }),
  ].filter((part) => part !== "");
}

/** The only legend of the program. */
function legend(tokens: Tokens): readonly string[] {
  const y = 31;
  const words = (x: number, text: string): string => svgText(text, { at: [x, y + 5], kind: "caption", fill: tokens.ink2 });
  const ring = `<circle cx="330" cy="${y}" r="5" fill="${tokens.sheet}" stroke="${tokens.ink}" stroke-width="1.75"/>`;
  const spread = `<path d="M428 ${y}C438 ${y} 442 ${y - 9} 448 ${y - 9}C454 ${y - 9} 458 ${y} 468 ${y}C458 ${y} 454 ${y + 9} 448 ${y + 9}C442 ${y + 9} 438 ${y} 428 ${y}Z" fill="${tokens.ink3}" fill-opacity="0.42"/>`;
  const dot = `<circle cx="448" cy="${y}" r="5.5" fill="${tokens.ink}"/>`;
  return [
    ring,
    words(344, "as drawn"),
    spread,
    dot,
    words(474, "as built"),
    diamond([574, y], { fill: tokens.measured }),
    words(588, "measured"),
  ];
}

function fences(lines: readonly RailLine[], frame: { scale: Scale; tokens: Tokens; bottom: number }): readonly string[] {
  const { tokens, scale, bottom } = frame;
  const fence = alongRail(0, scale);
  const top = layout.head;
  const ground = { fill: tokens.ink3 };
  const pickets = lines.map(({ y }) => `M${round(fence - 4)} ${y - layout.row / 2}h8`).join("");
  const breaks = lines
    .filter(({ row }) => snapped(row))
    .map(({ y }) => `<rect x="${round(fence - 3)}" y="${y - 9}" width="6" height="20" fill="${tokens.stock}"/>`);
  const second = lines
    .filter(({ row }) => row.twoSided === true)
    .flatMap(({ y }) => {
      const [a, b] = [y - layout.row / 2 + 2, y + layout.row / 2 - 2];
      return [
        stipple({ left: upperFence, top: a, right: layout.railEnd, bottom: b }, ground),
        svgLine(`M${upperFence} ${a}V${b}M${upperFence - 4} ${a}h8M${upperFence - 4} ${b}h8`, {
          stroke: tokens.ink,
          width: 2.25,
        }),
      ];
    });
  return [
    ...lines
      .filter(({ row }) => row.verdict !== "not applicable")
      .map(({ y }) =>
        stipple({ left: layout.railStart, top: y - layout.row / 2, right: fence, bottom: y + layout.row / 2 }, ground),
      ),
    svgLine(`M${round(fence)} ${top - 6}V${bottom}${pickets}`, { stroke: tokens.ink, width: 2.25 }),
    ...breaks,
    ...second,
    svgText("short of the limit", { at: [fence - 8, top - 12], kind: "tick", fill: tokens.ink2, anchor: "end" }),
    svgText("clear of the limit", { at: [fence + 8, top - 12], kind: "tick", fill: tokens.ink2 }),
  ];
}

function axis(frame: { scale: Scale; tokens: Tokens; bottom: number }): readonly string[] {
  const ticks = niceTicks(100 * frame.scale.low, 100 * frame.scale.high);
  const texts = tickTexts(ticks);
  return [
    ...ticks.map((tick, i) =>
      svgText(tick > 0 ? `+${texts[i]}` : texts[i]!, {
        at: [alongRail(tick / 100, frame.scale), frame.bottom + 18],
        kind: "tick",
        fill: frame.tokens.ink2,
        anchor: "middle",
      }),
    ),
    svgText("per cent of the limit", {
      at: [layout.width - layout.left, frame.bottom + 18],
      kind: "tick",
      fill: frame.tokens.ink2,
      anchor: "end",
    }),
  ];
}

function spoken(row: RailRow): string {
  const mark = (word: string, found: RailMark | undefined): string =>
    found === undefined ? "" : `, ${word} ${percent(found.margin)} of the ${row.twoSided === true ? "half width" : "limit"}`;
  const rest = row.chance === "" ? "" : `, ${row.chance}`;
  return `${row.name}, ${row.limit}: ${row.value === "" ? "" : `${row.value}, `}${row.verdict}${rest}${mark("as drawn", row.drawn)}${mark("as built", row.built)}${mark("measured", row.measured)}.`;
}

/** The row without marks whose margin does not exist. */
function withRealMarks(row: RailRow): RailRow {
  const { drawn, built, measured, ...rest } = row;
  const real = (mark: RailMark | undefined): mark is RailMark => mark !== undefined && Number.isFinite(mark.margin);
  return {
    ...rest,
    ...(real(drawn) ? { drawn } : {}),
    ...(real(built) ? { built } : {}),
    ...(real(measured) ? { measured } : {}),
  };
}

/** SVG text of the ledger. */
export function railPicture(options: RailPictureOptions): string {
  const tokens = options.tokens ?? paper;
  const rows = options.rows.map(withRealMarks);
  const scale = scaleOf(rows);
  const fence = alongRail(0, scale);
  const bottom = layout.head + layout.row * rows.length;
  const lines = rows.map((row, i): RailLine => {
    const xOf =
      row.twoSided === true
        ? (margin: number) => fence + (margin / 2) * (upperFence - fence)
        : (margin: number) => alongRail(margin, scale);
    return { row, tokens, fence, xOf, y: layout.head + layout.row * (i + 0.5) };
  });
  const frame = { scale, tokens, bottom };
  const description = rows.map(spoken).join(" ");
  return svgDocument({ width: layout.width, height: bottom + layout.foot, title: options.title, description, tokens }, [
    svgLine(`M${layout.left} 8H${layout.width - layout.left}`, { stroke: tokens.ink, width: 2.25 }),
    svgText(options.title, { at: [layout.left, 37], kind: "title", fill: tokens.ink }),
    ...legend(tokens),
    ...fences(lines, frame),
    ...lines.flatMap(drawRow),
    ...axis(frame),
  ]);
}
