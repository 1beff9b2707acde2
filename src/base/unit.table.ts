/**
 * Units that may be written in a chip text.
 * Sources: SI brochure, 9th edition (BIPM 2019), tables 2 to 8; torr and standard atmosphere: NIST SP 811 (2008), appendix B
 * (from memory); standard acceleration of gravity 9.80665 m/s^2: 3rd CGPM 1901 (from memory). `sq` (square, of a sheet) and
 * `ppm` are usage of the trade, no source.
 */
import { type Dimension, dimensionless, dimensionNamed } from "./dimension.ts";

export interface UnitSymbol {
  readonly symbol: string;
  /** SI value of one unit. */
  readonly factor: number;
  readonly dimension: Dimension;
  /** True where decimal prefixes may stand before it. */
  readonly prefixable?: true;
  /** Kelvin to add after multiplying: only degree Celsius has one. */
  readonly offset?: number;
}

const d = dimensionNamed;

export const unitSymbols: readonly UnitSymbol[] = [
  { symbol: "m", factor: 1, dimension: d("length"), prefixable: true },
  { symbol: "g", factor: 1e-3, dimension: d("mass"), prefixable: true },
  { symbol: "s", factor: 1, dimension: d("time"), prefixable: true },
  { symbol: "min", factor: 60, dimension: d("time") },
  { symbol: "h", factor: 3600, dimension: d("time") },
  { symbol: "day", factor: 86400, dimension: d("time") },
  { symbol: "days", factor: 86400, dimension: d("time") },
  { symbol: "week", factor: 604800, dimension: d("time") },
  { symbol: "weeks", factor: 604800, dimension: d("time") },
  { symbol: "A", factor: 1, dimension: d("current"), prefixable: true },
  { symbol: "K", factor: 1, dimension: d("temperature"), prefixable: true },
  { symbol: "degC", factor: 1, dimension: d("temperature"), offset: 273.15 },
  { symbol: "°C", factor: 1, dimension: d("temperature"), offset: 273.15 },
  { symbol: "rad", factor: 1, dimension: d("angle"), prefixable: true },
  { symbol: "deg", factor: Math.PI / 180, dimension: d("angle") },
  { symbol: "°", factor: Math.PI / 180, dimension: d("angle") },
  { symbol: "Hz", factor: 1, dimension: d("frequency"), prefixable: true },
  { symbol: "N", factor: 1, dimension: d("force"), prefixable: true },
  { symbol: "Pa", factor: 1, dimension: d("pressure"), prefixable: true },
  { symbol: "bar", factor: 1e5, dimension: d("pressure"), prefixable: true },
  { symbol: "atm", factor: 101325, dimension: d("pressure") },
  { symbol: "Torr", factor: 101325 / 760, dimension: d("pressure"), prefixable: true },
  { symbol: "J", factor: 1, dimension: d("energy"), prefixable: true },
  { symbol: "eV", factor: 1.602176634e-19, dimension: d("energy"), prefixable: true },
  { symbol: "W", factor: 1, dimension: d("power"), prefixable: true },
  { symbol: "V", factor: 1, dimension: d("voltage"), prefixable: true },
  { symbol: "ohm", factor: 1, dimension: d("resistance"), prefixable: true },
  { symbol: "\u03a9", factor: 1, dimension: d("resistance"), prefixable: true },
  { symbol: "\u2126", factor: 1, dimension: d("resistance"), prefixable: true },
  { symbol: "S", factor: 1, dimension: [-2, -1, 3, 2, 0, 0], prefixable: true },
  { symbol: "C", factor: 1, dimension: d("charge"), prefixable: true },
  { symbol: "F", factor: 1, dimension: d("capacitance"), prefixable: true },
  { symbol: "H", factor: 1, dimension: [2, 1, -2, -2, 0, 0], prefixable: true },
  { symbol: "T", factor: 1, dimension: [0, 1, -2, -1, 0, 0], prefixable: true },
  { symbol: "gn", factor: 9.80665, dimension: d("acceleration") },
  { symbol: "sq", factor: 1, dimension: dimensionless },
  { symbol: "%", factor: 1e-2, dimension: dimensionless },
  { symbol: "ppm", factor: 1e-6, dimension: dimensionless },
  { symbol: "ppb", factor: 1e-9, dimension: dimensionless },
];

/** Decimal prefixes. Both micro signs (U+00B5, U+03BC) and the letter u mean 1e-6. */
export const unitPrefixes: ReadonlyMap<string, number> = new Map([
  ["a", 1e-18],
  ["f", 1e-15],
  ["p", 1e-12],
  ["n", 1e-9],
  ["u", 1e-6],
  ["\u00b5", 1e-6],
  ["\u03bc", 1e-6],
  ["m", 1e-3],
  ["c", 1e-2],
  ["d", 1e-1],
  ["k", 1e3],
  ["M", 1e6],
  ["G", 1e9],
  ["T", 1e12],
]);
