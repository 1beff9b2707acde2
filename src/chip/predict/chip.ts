/**
 * A chip, opened: its text read, its names resolved, its brief and readings understood. Everything else is worked out from it.
 * No global state: a chip holds all that its answers depend on.
 */
import {
  type Amount,
  type Dimension,
  describeAmount,
  describeDimension,
  dimensionNamed,
  ExpressionError,
  errorAbout,
  InputError,
  type Phrase,
  type Place,
  parsePhrase,
  type QuantityText,
  sameDimension,
  type TextProblem,
} from "#base";
import type { ShapeFactorStore } from "#devices";
import { evaluateNeed } from "../brief/need.ts";
import { type Names, namesOf, type Requirement, readBrief, unknownWord } from "../brief/requirements.ts";
import { type Description, readDescription, sortProblems } from "../description.ts";
import { type Addresses, createAddresses, pathKey } from "../evaluate/addresses.ts";
import { createScope, EvaluationError, type Scope, type Side } from "../evaluate/scope.ts";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import { type Readings, resolveReadings } from "../readings/resolve.ts";
import { readTerm, type Term } from "../term/term.ts";
import { placeOfPath } from "../text/find-node.ts";
import { SideModel } from "./side-model.ts";

/** A what-if: a quantity of the text, by its name, with another value. */
export interface Override {
  readonly name: string;
  readonly value: string;
}

export interface SideOptions {
  /** Shift of causes of doubt, in standard deviations. */
  readonly deviations?: ReadonlyMap<string, number>;
  /** A side already worked out nearby, whose states are good to start from. */
  readonly near?: SideModel;
  /** True: answers to first order in the difference to the side nearby. */
  readonly firstOrder?: boolean;
}

export interface Chip {
  readonly description: Description;
  readonly addresses: Addresses;
  readonly names: Names;
  readonly requirements: readonly Requirement[];
  readonly term: Term;
  readonly readings: Readings;
  /** One side, every cause of doubt moved by `deviations` (in standard deviations). */
  side(side: Side, options?: SideOptions): SideModel;
  /** The same chip with other values; the text itself stays. Throws InputError. */
  with(overrides: readonly Override[]): Chip;
  /** The same chip with one quantity replaced, unchecked: for sweeps, whose ends were checked. */
  withPhrase(quantity: QuantityText, phrase: Phrase): Chip;
  /** True where readings, bias or undercut make the built side differ from the drawn one. */
  readonly hasBuiltSide: boolean;
}

interface ChipState {
  readonly description: Description;
  readonly addresses: Addresses;
  readonly requirements: readonly Requirement[];
  readonly term: Term;
  readonly readings: Readings;
  readonly overrides: ReadonlyMap<string, Phrase>;
}

class OpenChip implements Chip {
  readonly names: Names;

  constructor(
    private readonly state: ChipState,
    private readonly shapeFactors: ShapeFactorStore,
  ) {
    this.names = namesOf(state.description);
  }

  get description(): Description {
    return this.state.description;
  }

  get addresses(): Addresses {
    return this.state.addresses;
  }

  get term(): Term {
    return this.state.term;
  }

  get requirements(): readonly Requirement[] {
    return this.state.requirements;
  }

  get readings(): Readings {
    return this.state.readings;
  }

  get hasBuiltSide(): boolean {
    const { process } = this.state.description.sections;
    return (
      this.state.readings.substitutes.size > 0 ||
      process["undercut per edge"] !== undefined ||
      process["bias per edge"] !== undefined
    );
  }

  side(side: Side, options: SideOptions = {}): SideModel {
    return new SideModel(
      this.state.description,
      this.scope(side, options.deviations ?? new Map()),
      this.shapeFactors,
      options.near,
      options.firstOrder === true,
    );
  }

  scope(side: Side, deviations: ReadonlyMap<string, number>): Scope {
    const { addresses, overrides, readings } = this.state;
    return createScope({ addresses, side, overrides, readings: readings.substitutes, deviations });
  }

  with(overrides: readonly Override[]): Chip {
    const merged = new Map(this.state.overrides);
    for (const { name, value } of overrides) {
      const found = this.state.addresses.find(name);
      if (found.kind !== "one")
        throw errorAbout(this.state.description.file, `Cannot try "${name}": ${this.state.addresses.explain(name, found)}`);
      try {
        merged.set(pathKey(found.quantity.path), parsePhrase(value));
      } catch (error) {
        if (!(error instanceof ExpressionError)) throw error;
        throw errorAbout(this.state.description.file, `Cannot try ${name} = ${value}: ${error.message}.`);
      }
    }
    const changed = new OpenChip({ ...this.state, overrides: merged }, this.shapeFactors);
    const problems = changed.problems();
    if (problems.length > 0) throw new InputError(problems);
    return changed;
  }

  withPhrase(quantity: QuantityText, phrase: Phrase): Chip {
    return new OpenChip(
      { ...this.state, overrides: new Map([...this.state.overrides, [pathKey(quantity.path), phrase]]) },
      this.shapeFactors,
    );
  }

  /** Everything that evaluating the text on both sides brings up. */
  problems(): readonly TextProblem[] {
    const problems: TextProblem[] = [];
    const collect = (work: () => void): void => {
      try {
        work();
      } catch (error) {
        if (!(error instanceof EvaluationError)) throw error;
        problems.push({ place: error.place, message: error.message });
      }
    };
    for (const side of ["drawn", "built"] as const) {
      const before = problems.length;
      const scope = this.scope(side, new Map());
      for (const quantity of this.state.description.quantities) collect(() => void scope.amountOf(quantity));
      collect(() => this.evaluateBrief(scope));
      collect(() => this.evaluateMetricReadings(scope));
      // a device made of values that cannot be worked out would only repeat what is said already
      if (problems.length > before) break;
      collect(() => {
        const model = this.side(side);
        problems.push(...model.checkDevices());
        const sound = problems.length === before;
        for (const name of this.names.cases) {
          collect(() => {
            model.checkCase(name);
            if (sound) for (const device of this.devicesAt(name)) problems.push(...model.checkDeviceInCase(device, name));
          });
        }
        if (problems.length === before) problems.push(...this.missingSubjects(model));
      });
      if (problems.length > before) break;
    }
    return sortProblems(eachOnce(problems));
  }

  /** Devices that a case is of: the one that it names, the only one, or those that the brief asks about there. */
  private devicesAt(caseName: string): readonly string[] {
    const { devices } = this.names;
    const named = this.state.description.sections.drive.cases.get(caseName)?.device;
    if (named !== undefined && !devices.includes(named))
      throw new EvaluationError(
        `The case "${caseName}" names a device: ${unknownWord("a device of this chip", named, devices)}`,
        placeOfPath(this.state.description.parsed, ["drive", "cases", caseName, "device"]),
      );
    if (named !== undefined) return [named];
    if (devices.length === 1) return devices;
    const limits = this.state.requirements.flatMap((requirement) => requirement.limits);
    return [...new Set(limits.flatMap((limit) => (limit.caseName === caseName ? [limit.device] : [])))];
  }

  private evaluateBrief(scope: Scope): void {
    for (const requirement of this.state.requirements) {
      for (const limit of requirement.limits) {
        if (limit.metric === undefined) continue;
        const at = { place: limit.needPlace, name: `the requirement "${requirement.name}"` };
        evaluateNeed(limit.need, scope, { ...at, metric: limit.metric });
        const { needs, word } = limit.metric;
        if (limit.argument === undefined || needs === undefined) continue;
        const given = scope.evaluatePhrase(limit.argument, { ...at, place: limit.argumentPlace });
        requireKind(given, {
          dimension: dimensionNamed(needs.dimension),
          what: `${word} needs ${needs.about},`,
          at: limit.argumentPlace,
        });
      }
    }
  }

  private missingSubjects(model: SideModel): TextProblem[] {
    return this.state.requirements.flatMap((requirement) =>
      requirement.limits.flatMap(({ metric, where, device, wherePlace }) => {
        if (metric === undefined) return [];
        const missing = model.missingSubject(device, metric, where);
        return missing === undefined
          ? []
          : [{ place: wherePlace, message: `Cannot read the requirement "${requirement.name}": ${missing}` }];
      }),
    );
  }

  private evaluateMetricReadings(scope: Scope): void {
    for (const { metric, found, foundPlace } of this.state.readings.metricReadings) {
      const given = scope.evaluatePhrase(found, { place: foundPlace, name: `the reading of ${metric.word}` });
      requireKind(given, { dimension: dimensionOf(metric), what: `${metric.word} is`, at: foundPlace });
    }
  }
}

/** Without repetitions: several quantities may fail for the same reason. */
function eachOnce(problems: readonly TextProblem[]): readonly TextProblem[] {
  const seen = new Set<string>();
  return problems.filter(({ place, message }) => {
    const key = `${place.line}:${place.column} ${message}`;
    return !seen.has(key) && seen.add(key);
  });
}

function requireKind(amount: Amount, wanted: { dimension: Dimension; what: string; at: Place }): void {
  if (sameDimension(amount.dimension, wanted.dimension)) return;
  throw new EvaluationError(
    `${wanted.what} ${describeDimension(wanted.dimension)}, but ${describeAmount(amount)} is given here.`.replace(/^./, (c) =>
      c.toUpperCase(),
    ),
    wanted.at,
  );
}

/** Opens a chip text. Throws InputError with every problem found, each with file, line, column and a sentence. */
export function openChip(text: string, options: { readonly file: string }): Chip {
  const description = readDescription(text, options.file);
  const addresses = createAddresses(description.quantities);
  const brief = readBrief(description);
  const readings = resolveReadings(description, addresses);
  const { term, problems: termProblems } = readTerm(description);
  const problems = [...brief.problems, ...readings.problems, ...termProblems];
  const chip = new OpenChip(
    { description, addresses, requirements: brief.requirements, readings, term, overrides: new Map() },
    new Map(),
  );
  const all = [...problems, ...chip.problems()];
  if (all.length > 0) throw new InputError(sortProblems(all));
  return chip;
}
