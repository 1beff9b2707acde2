/** From an operating case of the text to what drives a device and what pushes on it. */
import type { QuantityText, Place as TextPlace } from "#base";
import type { DriveCase, Follow, Loads, Place, SequenceStep } from "#devices";
import { unknownWord } from "../brief/requirements.ts";
import type { Sections } from "../description.ts";
import { EvaluationError, type Scope } from "../evaluate/scope.ts";
import { placeOfPath } from "../text/find-node.ts";
import type { ParsedText } from "../text/parse.ts";

type StepText = NonNullable<CaseText["steps"]>[number];

export type CaseText = Sections["drive"]["cases"] extends ReadonlyMap<string, infer C> ? C : never;

interface At {
  readonly caseName: string;
  readonly scope: Scope;
  readonly parsed: ParsedText;
}

function mapped(texts: ReadonlyMap<string, QuantityText> | undefined, scope: Scope): ReadonlyMap<string, number> {
  return new Map([...(texts ?? new Map<string, QuantityText>())].map(([name, text]) => [name, scope.valueOf(text)]));
}

const placeOf = (at: At): TextPlace => placeOfPath(at.parsed, ["drive", "cases", at.caseName]);

const driveWords = ["pads", "supply", "current", "uniform rise", "uniform strain"] as const;

/** Exactly one way of driving, as the text says it. */
export function driveOfCase(text: CaseText, at: At & { readonly supply: Sections["drive"]["supply"] }): DriveCase {
  const { scope, caseName } = at;
  const kinds = driveWords.filter((kind) => text[kind] !== undefined);
  if (kinds.length !== 1) {
    const found = kinds.length === 0 ? "none is" : `${kinds.join(" and ")} are`;
    throw new EvaluationError(
      `The case "${caseName}" needs exactly one of pads, supply, current, uniform rise, uniform strain; ${found} given.`,
      placeOf(at),
    );
  }
  if (text.through !== undefined && text.supply === undefined) {
    throw new EvaluationError(
      `The case "${caseName}" has "through" but no "supply": a series resistor stands between a supply and the pads.`,
      placeOf(at),
    );
  }
  const potentials = mapped(text.potentials, scope);
  if (text.pads !== undefined) return { kind: "pads", voltage: scope.valueOf(text.pads), potentials };
  if (text.supply !== undefined) return supplyDrive(text, at);
  if (text.current !== undefined) return { kind: "current", current: scope.valueOf(text.current), potentials };
  const isRise = text["uniform rise"] !== undefined;
  return {
    kind: isRise ? "uniform rise" : "uniform strain",
    warmth: {
      everywhere: scope.valueOf((isRise ? text["uniform rise"] : text["uniform strain"])!),
      parts: mapped(isRise ? text["part rises"] : text["part strains"], scope),
    },
  };
}

function supplyDrive(text: CaseText, at: At & { readonly supply: Sections["drive"]["supply"] }): DriveCase {
  const { scope, supply } = at;
  const voltage = scope.valueOf(text.supply!);
  const limit = supply?.limit === undefined ? undefined : scope.valueOf(supply.limit);
  if (limit !== undefined && voltage > limit * (1 + 1e-9)) {
    throw new EvaluationError(
      `The case "${at.caseName}" asks the supply for ${voltage} V, but drive.supply.limit is ${limit} V. Lower one or raise the other.`,
      placeOf(at),
    );
  }
  const resistor = text.through ?? supply?.["series resistor"];
  const current = supply?.["limit current"];
  return {
    kind: "supply",
    voltage,
    resistance: resistor === undefined ? 0 : scope.valueOf(resistor),
    currentLimit: current === undefined ? undefined : scope.valueOf(current),
    potentials: mapped(text.potentials, scope),
  };
}

/** The state that a case follows to; undefined where it comes to one by itself. */
export function followOfCase(text: CaseText, at: At): Follow | undefined {
  const { follow } = text;
  if (follow === undefined) return undefined;
  if (text.steps !== undefined)
    throw new EvaluationError(
      `The case "${at.caseName}" has both steps and follow: a run in time comes to its states by itself.`,
      placeOf(at),
    );
  const { state, "turning point": turningPoint } = follow;
  if ((state === undefined) === (turningPoint === undefined))
    throw new EvaluationError(
      `The case "${at.caseName}" follows to ${state === undefined ? "nothing" : "two things"}: give either a state or a turning point, for example follow: { state: 2 }.`,
      placeOf(at),
    );
  return state === undefined ? { to: "turning point", count: turningPoint! } : { to: "state", count: state };
}

/** The steps of a case. Throws EvaluationError where one of them has two drives, or the case has both steps and a drive. */
export function stepsOfCase(text: CaseText, at: At & { readonly supply: Sections["drive"]["supply"] }): readonly SequenceStep[] {
  const { scope } = at;
  const steady = driveWords.filter((word) => text[word] !== undefined);
  if (steady.length > 0)
    throw new EvaluationError(
      `The case "${at.caseName}" has both steps and ${steady.join(" and ")}: put the drive into a step.`,
      placeOf(at),
    );
  if (text.steps?.length === 0)
    throw new EvaluationError(
      `The case "${at.caseName}" has no step: give one or more, for example steps: [{ for: 5 ms, pads: 5 V }].`,
      placeOf(at),
    );
  return (text.steps ?? []).map((step, index) => {
    const kinds = (["pads", "supply", "current"] as const).filter((kind) => step[kind] !== undefined);
    if (kinds.length > 1)
      throw new EvaluationError(
        `Step ${index + 1} of the case "${at.caseName}" has ${kinds.join(" and ")}: give one of them.`,
        placeOf(at),
      );
    return {
      duration: scope.valueOf(step.for),
      drive: kinds.length === 0 ? undefined : stepDrive(step, at),
    };
  });
}

function stepDrive(step: StepText, at: At & { readonly supply: Sections["drive"]["supply"] }): SequenceStep["drive"] {
  const drive = driveOfCase(step, at);
  if (drive.kind === "uniform rise" || drive.kind === "uniform strain")
    throw new RangeError("Cannot run a step: wanted a drive that feeds current, found a uniform one");
  return drive;
}

/** What acts on named points. Throws EvaluationError where a point is not known. */
export function loadsOf(text: CaseText, at: At & { readonly points: ReadonlyMap<string, Place> }): Loads {
  const { scope, points } = at;
  const value = (quantity: QuantityText | undefined): number => (quantity === undefined ? 0 : scope.valueOf(quantity));
  const pointNamed = (name: string): Place => {
    const point = points.get(name);
    if (point === undefined)
      throw new EvaluationError(
        `The case "${at.caseName}" names a point: ${unknownWord("a point of the device", name, [...points.keys()])}`,
        placeOf(at),
      );
    return point;
  };
  const forces = [...(text.forces ?? new Map())].map(([name, force]) => ({
    at: pointNamed(name),
    x: value(force.x),
    y: value(force.y),
    turn: value(force.turn),
  }));
  const held = [...(text.held ?? new Map())].flatMap(([name, motions]) =>
    (["x", "y", "turn"] as const).flatMap((motion) =>
      motions[motion] === undefined ? [] : [{ at: pointNamed(name), motion, value: scope.valueOf(motions[motion]!) }],
    ),
  );
  return {
    againstTravel: value(text["apex load"]),
    forces,
    held,
    acceleration: [value(text.acceleration?.x), value(text.acceleration?.y)],
  };
}
