/**
 * Writing quantities for people: a fitting unit, as many digits as the doubt allows.
 * "6.45 ± 0.22 µm", "46.8 mA", "565 K".
 */
import { baseUnitText, type Dimension, type DimensionName, dimensionless, dimensionNamed, sameDimension } from "./dimension.ts";

interface Scale {
  readonly text: string;
  readonly factor: number;
}

const pretty = (names: string, first: number, step: number): readonly Scale[] =>
  names.split(" ").map((text, i) => ({ text, factor: first * step ** i }));

/** Units for display, from small to large; the largest one not above the value is taken. */
const scales: ReadonlyMap<DimensionName, readonly Scale[]> = new Map<DimensionName, readonly Scale[]>([
  ["length", pretty("nm µm mm m", 1e-9, 1e3)],
  [
    "area",
    [
      { text: "µm²", factor: 1e-12 },
      { text: "mm²", factor: 1e-6 },
    ],
  ],
  ["mass", pretty("ng µg mg g", 1e-12, 1e3)],
  ["time", [...pretty("ns µs ms s", 1e-9, 1e3), { text: "h", factor: 3600 }]],
  ["current", pretty("nA µA mA A", 1e-9, 1e3)],
  ["temperature", [{ text: "K", factor: 1 }]],
  ["angle", [{ text: "°", factor: Math.PI / 180 }]],
  ["frequency", pretty("Hz kHz MHz GHz", 1, 1e3)],
  ["force", pretty("nN µN mN N", 1e-9, 1e3)],
  ["stiffness", pretty("N/m kN/m", 1, 1e3)],
  ["pressure", pretty("Pa kPa MPa GPa", 1, 1e3)],
  ["energy", pretty("nJ µJ mJ J", 1e-9, 1e3)],
  ["power", pretty("nW µW mW W", 1e-9, 1e3)],
  ["voltage", pretty("µV mV V kV", 1e-6, 1e3)],
  ["resistance", pretty("mΩ Ω kΩ MΩ", 1e-3, 1e3)],
  ["resistivity", [{ text: "Ω m", factor: 1 }]],
  ["capacitance", pretty("aF fF pF nF", 1e-18, 1e3)],
  ["density", [{ text: "kg/m³", factor: 1 }]],
  ["thermal conductivity", [{ text: "W/(m K)", factor: 1 }]],
  ["thermal conductance", pretty("nW/K µW/K mW/K W/K", 1e-9, 1e3)],
  ["thermal resistance", [{ text: "K/W", factor: 1 }]],
  ["film coefficient", [{ text: "W/(m² K)", factor: 1 }]],
]);

function scalesOf(dimension: Dimension): readonly Scale[] | undefined {
  for (const [name, list] of scales) if (sameDimension(dimensionNamed(name), dimension)) return list;
  return undefined;
}

/** Units in words that people wrote, as they are read: "at most 10 um" becomes "at most 10 µm". Degrees stay a word. */
export const prettyUnits = (words: string): string =>
  words.replace(/\bu(?=(?:m|N|A|W|V|s|J)\b)/g, "\u00b5").replace(/\bohm\b/g, "\u03a9");

/** The unit in which a value of this dimension reads best. `value` in SI. */
export function displayScale(value: number, dimension: Dimension): Scale {
  const list = scalesOf(dimension);
  if (list === undefined) return { text: baseUnitText(dimension) === "1" ? "" : baseUnitText(dimension), factor: 1 };
  const size = Math.abs(value);
  let chosen = list[0]!;
  // a power of 0.55 W reads better as 554 mW; the next unit starts at one of itself
  for (const scale of list) if (size >= scale.factor * 0.9995) chosen = scale;
  return size === 0 ? (list[Math.min(1, list.length - 1)] ?? chosen) : chosen;
}

/** A typographic minus before the number; the one in an exponent stays plain, so that the text reads back. */
function withMinus(text: string): string {
  return text.replace(/^-/, "\u2212");
}

/** A number with `digits` significant digits and no exponent unless it is very large or small. */
export function formatNumber(value: number, digits: number): string {
  if (value === 0) return "0";
  const exponent = exponentOf(Number(value.toPrecision(digits)));
  if (needsPower(exponent)) return withMinus(value.toExponential(digits - 1).replace("e+", "e"));
  return withMinus(value.toFixed(Math.max(0, digits - 1 - exponent)));
}

function exponentOf(value: number): number {
  return Math.floor(Math.log10(Math.abs(value)));
}

function needsPower(exponent: number): boolean {
  return exponent >= 6 || exponent < -4;
}

/** A number rounded to a given count of decimals; never "-0". */
function formatDecimals(value: number, decimals: number): string {
  const text = value.toFixed(Math.max(0, decimals));
  return Number(text) === 0 ? text.replace("-", "") : withMinus(text);
}

export interface FormatOptions {
  /** One standard deviation [SI]; decides how many digits are shown and is printed as "±". */
  readonly sigma?: number;
  /** Significant digits where no doubt is given. */
  readonly digits?: number;
  /** A value whose unit is to be shared, so that a limit and a prediction read alike. */
  readonly like?: number;
}

/** "6.45 ± 0.22 µm". `value` in SI. Values that are no number read "does not exist". */
export function formatQuantity(value: number, dimension: Dimension, options: FormatOptions = {}): string {
  if (!Number.isFinite(value)) return "does not exist";
  const doubtful = options.sigma !== undefined && options.sigma > Math.abs(value) && Number.isFinite(options.sigma);
  const size = Math.abs(options.like ?? (doubtful ? options.sigma : value));
  const asPercent = sameDimension(dimension, dimensionless) && size >= 1e-4 && size < 1;
  const scale = asPercent ? { text: "%", factor: 1e-2 } : displayScale(size, dimension);
  const unit = scale.text === "" || scale.text === "°" ? scale.text : ` ${scale.text}`;
  const shown = value / scale.factor;
  const sigma = (options.sigma ?? 0) / scale.factor;
  const alone = formatNumber(shown, options.digits ?? 4);
  if (!(sigma > 0)) return `${alone}${unit}`;
  if (sigma === Number.POSITIVE_INFINITY) return `${alone} ± ∞${unit}`;
  // two digits of the doubt, but no more than five of the value
  const doubt = Number(sigma.toPrecision(2));
  const top = exponentOf(Math.max(Math.abs(shown), doubt));
  const decimals = Math.min(1 - exponentOf(doubt), 4 - top);
  if (Number(doubt.toFixed(Math.max(0, decimals))) === 0) return `${formatNumber(shown, options.digits ?? 5)}${unit}`;
  const power = needsPower(top) ? top : 0;
  const part = (number: number): string =>
    `${formatDecimals(number / 10 ** power, decimals + power)}${power === 0 ? "" : `e${power}`}`;
  return `${part(shown)} ± ${part(doubt)}${unit}`;
}
