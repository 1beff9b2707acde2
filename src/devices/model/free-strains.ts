/**
 * Free strains and moduli of a frame: thermal strain from the temperatures found, less the tension of the bond.
 * The exact integral of the expansion law between ambient and the temperature of each element.
 */
import { type BranchField, type FrameLoad, meanAlong, partMeansInto, type SteadyState } from "#physics";
import type { Conditions } from "../conditions.ts";
import type { BuiltDevice } from "./built-device.ts";
import type { ElasticFrame, FrameOwner } from "./elastic-frame.ts";
import type { HeatNetwork } from "./heat-network.ts";

/** The part of a load that temperatures make. */
export type FreeStrains = Required<Pick<FrameLoad, "strains" | "bodyStrains" | "moduli">>;

interface Model {
  readonly device: BuiltDevice;
  readonly heat: HeatNetwork;
  readonly frame: ElasticFrame;
  readonly conditions: Conditions;
}

/** Direction of the material that a beam of the frame is made of, [rad]. */
function angleOf({ device, heat }: Model, owner: FrameOwner): number {
  if (owner.kind === "beam") return device.beams[owner.beam]!.angle;
  const { part } = device.bodies[heat.spines[owner.spine]!.body]!;
  return part.slab.turn + (part.kind === "plate" && part.spine === "y" ? Math.PI / 2 : 0);
}

/** Without any heat: the bond alone. */
export function restStrains(model: Model): FreeStrains {
  return spreadStrains(model, { free: () => 0, temperature: () => model.conditions.ambient });
}

/** Every part at one strain or temperature of its own. */
export function uniformStrains(
  model: Model,
  warmth: { readonly kind: "uniform rise" | "uniform strain"; readonly valueOf: (part: string) => number },
): FreeStrains {
  const { ambient } = model.conditions;
  const isRise = warmth.kind === "uniform rise";
  return spreadStrains(model, {
    free: (part, angle) =>
      isRise
        ? model.conditions.materialAlong(angle).expansion.strainBetween(ambient, ambient + warmth.valueOf(part))
        : warmth.valueOf(part),
    temperature: (part) => ambient + (isRise ? warmth.valueOf(part) : 0),
  });
}

function spreadStrains(
  model: Model,
  at: { readonly free: (part: string, angle: number) => number; readonly temperature: (part: string) => number },
): FreeStrains {
  const { frame, conditions, device, heat } = model;
  const { bondStrain } = conditions;
  const bodyStrains = Float64Array.from(frame.bodyOfJunction, (body) => {
    if (body === undefined) return 0;
    const { part } = device.bodies[heat.spines[body.spine]!.body]!;
    return at.free(part.name, part.slab.turn) - bondStrain;
  });
  return {
    strains: frame.network.beams.map((beam, b) => {
      const own = at.free(beam.name, angleOf(model, frame.owners[b]!)) - bondStrain;
      return own + excessInRoots(model, b, { mean: own, bodyStrains });
    }),
    moduli: frame.network.beams.map((beam, b) => {
      const { youngsModulus } = conditions.materialAlong(angleOf(model, frame.owners[b]!));
      return (beam.youngsModulus * youngsModulus.at(at.temperature(beam.name))) / youngsModulus.at(conditions.ambient);
    }),
    bodyStrains,
  };
}

/**
 * What a beam lengthens by more, over its whole length as a strain, because the ends that reach into what it is joined to are as warm
 * as that: a plate; an anchor, which the glass keeps from lengthening.
 */
function excessInRoots(model: Model, beam: number, at: { readonly mean: number; readonly bodyStrains: Float64Array }): number {
  const { frame, device } = model;
  const owner = frame.owners[beam]!;
  const [start, end] = [frame.reaches[2 * beam]!, frame.reaches[2 * beam + 1]!];
  if (owner.kind !== "beam" || start + end === 0) return 0;
  const { from, to } = frame.network.beams[beam]!;
  const { mean, bodyStrains } = at;
  return (
    (start * (bodyStrains[from]! - mean) + end * (bodyStrains[to]! - mean)) / (device.beams[owner.beam]!.length + start + end)
  );
}

function fieldOf(model: Model, owner: FrameOwner, fields: readonly BranchField[]): BranchField {
  const { heat } = model;
  if (owner.kind === "beam") return fields[heat.branchOfBeam[owner.beam]!]!;
  return fields[heat.firstBranchOfSpine[owner.spine]! + owner.piece]!;
}

/** From the temperatures along the branches. */
export function heatedStrains(model: Model, steady: Pick<SteadyState, "fields" | "junctionTemperatures">): FreeStrains {
  const { frame, conditions, heat } = model;
  const { ambient, bondStrain } = conditions;
  const strains: Float64Array[] = [];
  const moduli: Float64Array[] = [];
  frame.network.beams.forEach((beam, b) => {
    const owner = frame.owners[b]!;
    const { expansion, youngsModulus } = conditions.materialAlong(angleOf(model, owner));
    const field = fieldOf(model, owner, steady.fields);
    const strain = new Float64Array(beam.widths.length);
    partMeansInto(strain, field, { quantity: (T) => expansion.strainBetween(ambient, T) - bondStrain });
    strains.push(strain);
    const modulus = new Float64Array(beam.widths.length);
    const cold = youngsModulus.at(ambient);
    partMeansInto(modulus, field, { quantity: (T) => (beam.youngsModulus * youngsModulus.at(T)) / cold });
    moduli.push(modulus);
  });
  const bodyStrains = Float64Array.from(frame.bodyOfJunction, (body) => {
    if (body === undefined) return 0;
    const { part } = model.device.bodies[heat.spines[body.spine]!.body]!;
    const { expansion } = conditions.materialAlong(part.slab.turn);
    const first = heat.firstJunctionOfSpine[body.spine]!;
    if (body.node !== undefined)
      return expansion.strainBetween(ambient, steady.junctionTemperatures[first + body.node]!) - bondStrain;
    return (
      meanSpineStrain(model, body.spine, { fields: steady.fields, strain: (T) => expansion.strainBetween(ambient, T) }) -
      bondStrain
    );
  });
  strains.forEach((strain, b) => {
    const mean = strain.reduce((sum, value) => sum + value, 0) / strain.length;
    const excess = excessInRoots(model, b, { mean, bodyStrains });
    if (excess !== 0) for (let i = 0; i < strain.length; i++) strain[i]! += excess;
  });
  return { strains, moduli, bodyStrains };
}

/** Mean over the length of a spine. */
function meanSpineStrain(
  model: Model,
  spine: number,
  at: { readonly fields: readonly BranchField[]; readonly strain: (T: number) => number },
): number {
  const { spines, firstBranchOfSpine } = model.heat;
  const first = firstBranchOfSpine[spine]!;
  const nPieces = spines[spine]!.positions.length - 1;
  let [sum, length] = [0, 0];
  for (const field of at.fields.slice(first, first + nPieces)) {
    sum += field.length * meanAlong(field, at.strain);
    length += field.length;
  }
  return sum / length;
}
