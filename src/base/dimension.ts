/**
 * Physical dimensions as exponents of length, mass, time, electric current, temperature and plane angle.
 *
 * The angle is carried although SI calls it a pure number: a tilt typed where a length is due is then found.
 * Temperature and temperature rise share their exponents; `TemperatureKind` in amount.ts tells them apart.
 */

/** Exponents of [m, kg, s, A, K, rad]. */
export type Dimension = readonly [
  length: number,
  mass: number,
  time: number,
  current: number,
  temperature: number,
  angle: number,
];

export const dimensionless: Dimension = [0, 0, 0, 0, 0, 0];

interface NamedDimension {
  readonly name: string;
  readonly phrase: string;
  readonly dimension: Dimension;
}

const named: readonly NamedDimension[] = [
  { name: "number", phrase: "a pure number", dimension: dimensionless },
  { name: "length", phrase: "a length", dimension: [1, 0, 0, 0, 0, 0] },
  { name: "area", phrase: "an area", dimension: [2, 0, 0, 0, 0, 0] },
  { name: "volume", phrase: "a volume", dimension: [3, 0, 0, 0, 0, 0] },
  { name: "mass", phrase: "a mass", dimension: [0, 1, 0, 0, 0, 0] },
  { name: "time", phrase: "a time", dimension: [0, 0, 1, 0, 0, 0] },
  { name: "current", phrase: "a current", dimension: [0, 0, 0, 1, 0, 0] },
  { name: "temperature", phrase: "a temperature", dimension: [0, 0, 0, 0, 1, 0] },
  { name: "angle", phrase: "an angle", dimension: [0, 0, 0, 0, 0, 1] },
  { name: "frequency", phrase: "a frequency", dimension: [0, 0, -1, 0, 0, 0] },
  { name: "velocity", phrase: "a velocity", dimension: [1, 0, -1, 0, 0, 0] },
  { name: "acceleration", phrase: "an acceleration", dimension: [1, 0, -2, 0, 0, 0] },
  { name: "force", phrase: "a force", dimension: [1, 1, -2, 0, 0, 0] },
  { name: "stiffness", phrase: "a stiffness (force per length)", dimension: [0, 1, -2, 0, 0, 0] },
  { name: "damping coefficient", phrase: "a damping coefficient (force per velocity)", dimension: [0, 1, -1, 0, 0, 0] },
  { name: "pressure", phrase: "a pressure or stress", dimension: [-1, 1, -2, 0, 0, 0] },
  { name: "energy", phrase: "an energy", dimension: [2, 1, -2, 0, 0, 0] },
  { name: "power", phrase: "a power", dimension: [2, 1, -3, 0, 0, 0] },
  { name: "voltage", phrase: "a voltage", dimension: [2, 1, -3, -1, 0, 0] },
  { name: "resistance", phrase: "a resistance", dimension: [2, 1, -3, -2, 0, 0] },
  { name: "resistivity", phrase: "a resistivity", dimension: [3, 1, -3, -2, 0, 0] },
  { name: "charge", phrase: "a charge", dimension: [0, 0, 1, 1, 0, 0] },
  { name: "capacitance", phrase: "a capacitance", dimension: [-2, -1, 4, 2, 0, 0] },
  { name: "density", phrase: "a density", dimension: [-3, 1, 0, 0, 0, 0] },
  { name: "concentration", phrase: "a number per volume", dimension: [-3, 0, 0, 0, 0, 0] },
  { name: "thermal conductivity", phrase: "a thermal conductivity", dimension: [1, 1, -3, 0, -1, 0] },
  { name: "thermal conductance", phrase: "a thermal conductance", dimension: [2, 1, -3, 0, -1, 0] },
  { name: "thermal resistance", phrase: "a thermal resistance", dimension: [-2, -1, 3, 0, 1, 0] },
  { name: "film coefficient", phrase: "a film coefficient (power per area and kelvin)", dimension: [0, 1, -3, 0, -1, 0] },
  { name: "specific heat", phrase: "a specific heat", dimension: [2, 0, -2, 0, -1, 0] },
  { name: "expansion coefficient", phrase: "an expansion coefficient (per kelvin)", dimension: [0, 0, 0, 0, -1, 0] },
];

/** Names of the dimensions that have one, for `dimensionNamed`. */
export type DimensionName =
  | "number"
  | "length"
  | "area"
  | "volume"
  | "mass"
  | "time"
  | "current"
  | "temperature"
  | "angle"
  | "frequency"
  | "velocity"
  | "acceleration"
  | "force"
  | "stiffness"
  | "damping coefficient"
  | "pressure"
  | "energy"
  | "power"
  | "voltage"
  | "resistance"
  | "resistivity"
  | "charge"
  | "capacitance"
  | "density"
  | "concentration"
  | "thermal conductivity"
  | "thermal conductance"
  | "thermal resistance"
  | "film coefficient"
  | "specific heat"
  | "expansion coefficient";

/** The dimension of that name. */
export function dimensionNamed(name: DimensionName): Dimension {
  const found = named.find((entry) => entry.name === name);
  if (found === undefined) throw new RangeError(`Cannot find the dimension "${name}"`);
  return found.dimension;
}

const symbols = ["m", "kg", "s", "A", "K", "rad"] as const;

export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.every((exponent, i) => Math.abs(exponent - b[i]!) < 1e-9);
}

export function multiplyDimensions(a: Dimension, b: Dimension): Dimension {
  return a.map((exponent, i) => exponent + b[i]!) as unknown as Dimension;
}

export function divideDimensions(a: Dimension, b: Dimension): Dimension {
  return a.map((exponent, i) => exponent - b[i]!) as unknown as Dimension;
}

export function raiseDimension(a: Dimension, power: number): Dimension {
  return a.map((exponent) => exponent * power) as unknown as Dimension;
}

/** The SI unit of a dimension in base units, for example "kg m/s^2"; "1" for a pure number. */
export function baseUnitText(dimension: Dimension): string {
  const part = (sign: 1 | -1): string[] =>
    symbols.flatMap((symbol, i) => {
      const exponent = sign * dimension[i]!;
      if (exponent < 1e-9) return [];
      return [Math.abs(exponent - 1) < 1e-9 ? symbol : `${symbol}^${Number(exponent.toFixed(6))}`];
    });
  const above = part(1);
  const below = part(-1);
  if (above.length === 0 && below.length === 0) return "1";
  const top = above.length === 0 ? "1" : above.join(" ");
  if (below.length === 0) return top;
  return below.length === 1 ? `${top}/${below[0]}` : `${top}/(${below.join(" ")})`;
}

/** SI units with a name of their own or a usual compound, by the name of the dimension. */
const siUnits: ReadonlyMap<string, string> = new Map([
  ["frequency", "Hz"],
  ["force", "N"],
  ["stiffness", "N/m"],
  ["pressure", "Pa"],
  ["energy", "J"],
  ["power", "W"],
  ["voltage", "V"],
  ["resistance", "ohm"],
  ["resistivity", "ohm m"],
  ["charge", "C"],
  ["capacitance", "F"],
  ["thermal conductivity", "W/(m K)"],
  ["thermal conductance", "W/K"],
  ["thermal resistance", "K/W"],
  ["film coefficient", "W/(m^2 K)"],
  ["specific heat", "J/(kg K)"],
]);

/** The SI unit as the trade writes it, for data: "V", "N/m"; base units where there is no usual one. */
export function siUnitText(dimension: Dimension): string {
  const found = named.find((entry) => sameDimension(entry.dimension, dimension));
  return (found && siUnits.get(found.name)) ?? baseUnitText(dimension);
}

/** What a person would call it: "a length", or "a quantity in kg/s" where there is no name. */
export function describeDimension(dimension: Dimension): string {
  const found = named.find((entry) => sameDimension(entry.dimension, dimension));
  return found === undefined ? `a quantity in ${baseUnitText(dimension)}` : found.phrase;
}
