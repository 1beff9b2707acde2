/**
 * The ledger as rails: one line per requirement on a common axis, the margin to its limit in per cent, so that all fences line up.
 * What fails snaps at the fence; what is open is cracked; what no model computes yet is dotted.
 */
import { formatQuantity } from "#base";
import { type Ledger, type LedgerLimit, type LedgerRow, limitWords, type Prediction } from "#chip";
import { padEnd, padStart, type Style, shown, widthOf } from "./style.ts";

interface Signs {
  readonly drawn: string;
  readonly built: string;
  readonly measured: string;
  readonly one: string;
  readonly two: string;
  readonly rail: string;
  readonly short: string;
  readonly fence: string;
  readonly dotted: string;
  readonly fallen: string;
  readonly offLeft: string;
  readonly offRight: string;
}

const fine: Signs = {
  drawn: "○",
  built: "●",
  measured: "◆",
  one: "▓",
  two: "░",
  rail: "─",
  short: "┈",
  fence: "┃",
  dotted: "·",
  fallen: "▁",
  offLeft: "◂",
  offRight: "▸",
};
const plainSigns: Signs = {
  drawn: "o",
  built: "@",
  measured: "#",
  one: "=",
  two: "-",
  rail: "_",
  short: ".",
  fence: "|",
  dotted: ".",
  fallen: ",",
  offLeft: "<",
  offRight: ">",
};

/** Places left and right of the fence, and margin per place. */
const left = 14;
const right = 24;
const perPlace = 0.04;

function placeOf(margin: number): number {
  return Math.round(margin / perPlace) + left;
}

/** Puts a sign at a margin; an arrowhead at the end where it lies off the scale. */
function put(rail: string[], margin: number, sign: { mark: string; signs: Signs }): void {
  if (Number.isNaN(margin)) return;
  const place = placeOf(margin);
  if (place < 0) rail[0] = sign.signs.offLeft;
  else if (place >= rail.length) rail[rail.length - 1] = sign.signs.offRight;
  else rail[place] = sign.mark;
}

function lens(rail: string[], prediction: Prediction, signs: Signs): void {
  const { margin, marginSigma } = prediction;
  if (!(marginSigma > 0) || Number.isNaN(margin)) return;
  for (let place = 0; place < rail.length; place++) {
    const away = Math.abs((place - left) * perPlace - margin) / marginSigma;
    if (place === left) continue;
    if (away <= 1) rail[place] = signs.one;
    else if (away <= 2 && rail[place] !== signs.one) rail[place] = signs.two;
  }
}

function railOf(limit: LedgerLimit, row: LedgerRow, signs: Signs): string {
  const nPlaces = left + 1 + right;
  if (limit.built === undefined) return signs.dotted.repeat(nPlaces);
  const word = row.built?.word;
  const fails = word === "fails" || word === "doubtful";
  const rail = Array.from({ length: nPlaces }, (_, place) =>
    place < left ? (fails ? signs.fallen : signs.short) : place === left ? signs.fence : signs.rail,
  );
  if (fails) {
    rail[left - 1] = "\\";
    rail[left] = " ";
    rail[left + 1] = "/";
  } else if (word === "open") rail[left] = "/";
  lens(rail, limit.built, signs);
  if (limit.drawn !== undefined) put(rail, limit.drawn.margin, { mark: signs.drawn, signs });
  put(rail, limit.built.margin, { mark: signs.built, signs });
  if (limit.measured !== undefined) put(rail, limit.measured.margin, { mark: signs.measured, signs });
  return rail.join("");
}

function valueText(limit: LedgerLimit): string {
  if (limit.status === "no model") return "no model proves it";
  if (limit.built === undefined) return "not yet computed";
  const { estimate } = limit.built;
  if (!Number.isFinite(estimate.value)) return "does not exist";
  return formatQuantity(estimate.value, limit.dimension, {
    sigma: estimate.sigma,
    like: limit.need?.high ?? limit.need?.low ?? estimate.value,
  });
}

function chanceText(row: LedgerRow, style: Style): string {
  const { built } = row;
  if (built === undefined) return padEnd(style.dim(row.status === "no model" ? "to test" : "open"), 12);
  const word = built.word === "fails" || built.word === "doubtful" ? style.fail(built.word) : built.word;
  return `${padStart(style.bold(word), 8)} ${padStart(String(Math.round(100 * built.shown)), 3)}`;
}

/** Lines of the ledger: heading, one line per limit, the axis and the legend. */
export function railLines(ledger: Ledger, style: Style): string[] {
  const signs = style.plain ? plainSigns : fine;
  const nameWidth = Math.max(8, ...ledger.rows.map((row) => widthOf(row.requirement.name)));
  const limitTexts = ledger.rows.flatMap((row) => row.limits.map((limit) => shown(limitText(limit, row), style)));
  const limitWidth = Math.max(8, ...limitTexts.map(widthOf));
  const valueWidth = Math.max(
    16,
    ...ledger.rows.flatMap((row) => row.limits.map((limit) => widthOf(shown(valueText(limit), style)))),
  );
  const indent = 2 + nameWidth + 2;
  const tight = indent + limitWidth + 2 + (left + 1 + right) + 2 + valueWidth + 2 + 12 <= 112;
  const gutter = tight ? indent + limitWidth + 2 : indent;
  const lines = [
    `${" ".repeat(gutter)}${padStart("short of it ", left)}${signs.fence} ${padEnd("clear of the limit", right + 1)}${" ".repeat(valueWidth + 2)}${padStart("in 100", 12)}`,
  ];
  for (const row of ledger.rows) {
    row.limits.forEach((limit, index) => {
      const name = index === 0 ? style.bold(row.requirement.name) : "";
      const text = style.dim(shown(limitText(limit, row), style));
      const rail = railOf(limit, row, signs);
      const tail = `  ${padEnd(shown(valueText(limit), style), valueWidth)}  ${index === 0 ? chanceText(row, style) : ""}`;
      if (tight) lines.push(`  ${padEnd(name, nameWidth)}  ${padEnd(text, limitWidth)}  ${rail}${tail}`.trimEnd());
      else {
        lines.push(`  ${padEnd(name, nameWidth)}  ${rail}${tail}`.trimEnd());
        lines.push(`  ${" ".repeat(nameWidth)}  ${text}`);
      }
    });
  }
  lines.push(`${" ".repeat(gutter)}${axisLine()}`.trimEnd());
  lines.push("");
  lines.push(
    `  ${signs.drawn} as drawn   ${signs.built} as built, ${signs.one} within one sigma, ${signs.two} two   ${style.measured(signs.measured)} measured   axis: margin to the limit`,
  );
  return lines;
}

function limitText(limit: LedgerLimit, row: LedgerRow): string {
  const at = limit.limit.caseName === undefined ? "" : `, ${limit.limit.caseName}`;
  const text = limitWords(limit);
  return row.limits.length === 1 ? text || "proof by test" : `${text}${at}`;
}

/** Marks at every 20 and 40 per cent under the rails. */
function axisLine(): string {
  const line = Array.from({ length: left + 1 + right + 6 }, () => " ");
  for (const percent of [-40, 0, 40, 80]) {
    const text = percent === 0 ? "0" : percent > 0 ? `+${percent}` : `-${-percent}`;
    const start = placeOf(percent / 100) - Math.floor(text.length / 2);
    [...`${text}${percent === 80 ? " %" : ""}`].forEach((character, i) => {
      if (start + i >= 0 && start + i < line.length) line[start + i] = character;
    });
  }
  return line.join("");
}
