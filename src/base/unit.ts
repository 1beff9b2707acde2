/**
 * Reading units such as "um", "W/(m K)", "N/m", "ohm cm", "cm^-3".
 *
 * A blank, "*" or "·" multiplies; "/" divides by the one unit or bracket that follows; "^n", a superscript or a trailing digit
 * raises. "W/m K" is refused, because readers disagree on what the "/" covers.
 */
import { type Dimension, dimensionless, multiplyDimensions, raiseDimension } from "./dimension.ts";
import { nearestName } from "./nearest.ts";
import { unitPrefixes, unitSymbols } from "./unit.table.ts";

export interface Unit {
  /** SI value of one unit. */
  readonly factor: number;
  readonly dimension: Dimension;
  /** Kelvin to add after multiplying (degree Celsius alone); 0 otherwise. */
  readonly offset: number;
}

/** A unit text that cannot be read: `message` is a clause without a full stop, `at` the offset in the text. */
export class UnitError extends SyntaxError {
  override readonly name = "UnitError";
  readonly at: number;

  constructor(message: string, at: number) {
    super(message);
    this.at = at;
  }
}

const bySymbol = new Map(unitSymbols.map((unit) => [unit.symbol, unit]));

/** Every unit symbol that stands without a prefix, and the usual prefixed ones: for "nearest" hints. */
const familiarSymbols: readonly string[] = [
  ...unitSymbols.map((unit) => unit.symbol),
  ..."um nm mm cm mA uA nA mV kV mW uW kHz MHz kPa MPa GPa uN mN nN kohm Mohm ms us ns fF pF aF mK urad mrad uJ mJ mbar ppm ng ug".split(
    " ",
  ),
];

/** Words people write for units, with the symbol that is meant. */
const spelledOut: ReadonlyMap<string, string> = new Map([
  ["micron", "um"],
  ["microns", "um"],
  ["micrometer", "um"],
  ["micrometers", "um"],
  ["micrometre", "um"],
  ["micrometres", "um"],
  ["nanometre", "nm"],
  ["nanometer", "nm"],
  ["degrees", "deg"],
  ["degree", "deg"],
  ["celsius", "degC"],
  ["Celsius", "degC"],
  ["kelvin", "K"],
  ["volt", "V"],
  ["volts", "V"],
  ["amp", "A"],
  ["amps", "A"],
  ["ampere", "A"],
  ["watt", "W"],
  ["watts", "W"],
  ["ohms", "ohm"],
  ["Ohm", "ohm"],
  ["newton", "N"],
  ["sec", "s"],
  ["seconds", "s"],
  ["percent", "%"],
  ["mil", "um"],
  ["torr", "Torr"],
]);

/** One symbol with its prefix, or undefined. */
export function findUnitSymbol(symbol: string): Unit | undefined {
  const whole = bySymbol.get(symbol);
  if (whole !== undefined) return { factor: whole.factor, dimension: whole.dimension, offset: whole.offset ?? 0 };
  const prefix = symbol.slice(0, 1);
  const rest = bySymbol.get(symbol.slice(1));
  const scale = unitPrefixes.get(prefix);
  if (scale === undefined || rest?.prefixable === undefined) return undefined;
  return { factor: scale * rest.factor, dimension: rest.dimension, offset: 0 };
}

/** The clause that tells what may have been meant by an unknown unit word. */
export function unknownUnitClause(word: string): string {
  const meant = spelledOut.get(word) ?? nearestName(word, familiarSymbols);
  return meant === undefined
    ? `"${word}" is not a unit known here; examples of units are um, V, mA, K, MPa, W/(m K)`
    : `"${word}" is not a unit known here; the nearest is "${meant}"`;
}

const superscripts: ReadonlyMap<string, string> = new Map([..."⁰¹²³⁴⁵⁶⁷⁸⁹"].map((sign, i) => [sign, String(i)]));

const factorPattern =
  /^([A-Za-z\u00b5\u03bc\u03a9\u2126°%]+)(?<exponent>\^\((?<inside>[+-]?\d+(?:\.\d+)?)\)|\^(?<bare>[+-]?\d+(?:\.\d+)?)|(?<raised>⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)|(?<digit>\d))?/u;

/** Reads one symbol with its exponent at the start of `text`; the length consumed comes back too. */
export function readUnitFactor(text: string): { unit: Unit; length: number } | { unknown: string } | undefined {
  const match = factorPattern.exec(text);
  if (match === null) return undefined;
  const symbol = match[1]!;
  const unit = findUnitSymbol(symbol);
  if (unit === undefined) return { unknown: symbol };
  const { exponent: written, inside, bare, raised, digit } = match.groups!;
  const superscript =
    raised === undefined ? undefined : [...raised].map((c) => (c === "⁻" ? "-" : superscripts.get(c)!)).join("");
  const exponent = Number(inside ?? bare ?? superscript ?? digit ?? 1);
  if (written === undefined) return { unit, length: match[0].length };
  return {
    unit: { factor: unit.factor ** exponent, dimension: raiseDimension(unit.dimension, exponent), offset: 0 },
    length: match[0].length,
  };
}

class UnitReader {
  private at = 0;

  constructor(private readonly text: string) {}

  read(): Unit {
    const unit = this.readProduct(0);
    this.skipBlanks();
    if (this.at < this.text.length) throw new UnitError(`cannot read the unit from "${this.text.slice(this.at)}" on`, this.at);
    return unit;
  }

  private skipBlanks(): void {
    while (this.text[this.at] === " ") this.at++;
  }

  private readProduct(depth: number): Unit {
    if (depth > 3) throw new UnitError("brackets in a unit nest too deeply", this.at);
    let unit = this.readFactor(depth);
    let divided = false;
    for (;;) {
      const before = this.at;
      this.skipBlanks();
      const sign = this.text[this.at];
      if (sign === undefined || sign === ")") return unit;
      if (sign === "/") {
        this.at++;
        this.skipBlanks();
        unit = combine(unit, this.readFactor(depth), -1);
        divided = true;
        continue;
      }
      if (sign === "*" || sign === "·") this.at++;
      else if (before === this.at) throw new UnitError(`cannot read the unit from "${this.text.slice(this.at)}" on`, this.at);
      if (divided)
        throw new UnitError(
          `"${this.text}" can be read in two ways: put what stands under the bar in brackets, as in W/(m K)`,
          this.at,
        );
      this.skipBlanks();
      unit = combine(unit, this.readFactor(depth), 1);
    }
  }

  private readFactor(depth: number): Unit {
    if (this.text[this.at] === "(") {
      this.at++;
      const unit = this.readProduct(depth + 1);
      if (this.text[this.at] !== ")") throw new UnitError("a bracket in the unit is not closed", this.at);
      this.at++;
      return unit;
    }
    if (this.text[this.at] === "1") {
      this.at++;
      return { factor: 1, dimension: dimensionless, offset: 0 };
    }
    const found = readUnitFactor(this.text.slice(this.at));
    if (found === undefined) throw new UnitError("a unit is wanted here", this.at);
    if ("unknown" in found) throw new UnitError(unknownUnitClause(found.unknown), this.at);
    this.at += found.length;
    return found.unit;
  }
}

/** Product (sign 1) or quotient (sign -1) of two units. Degree Celsius loses its zero point inside a product. */
export function combine(a: Unit, b: Unit, sign: 1 | -1): Unit {
  return {
    factor: a.factor * b.factor ** sign,
    dimension: multiplyDimensions(a.dimension, raiseDimension(b.dimension, sign)),
    offset: 0,
  };
}

/** Reads a whole unit text. Throws UnitError with a clause that says what is wrong. */
export function parseUnit(text: string): Unit {
  if (text.length > 80) throw new UnitError("this unit is longer than 80 characters", 0);
  return new UnitReader(text.trim()).read();
}
