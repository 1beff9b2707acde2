/** Temperatures and free strains that the metrics speak of, from the fields along the branches. */
import {
  type BranchField,
  extremeTemperature,
  meanFreeStrain,
  meanTemperature,
  partMeansInto,
  type SteadyState,
  temperatureAlong,
} from "#physics";
import type { Conditions } from "../conditions.ts";
import type { BuiltDevice } from "./built-device.ts";
import type { HeatNetwork, WarmPlace } from "./heat-network.ts";
import { type PlateSpine, solidShares } from "./plate-spine.ts";

export interface TemperatureResults {
  readonly hottestTemperature: number;
  readonly hottestPlace: string;
  readonly meanLegTemperature: number;
  readonly shuttleTemperature: number;
  readonly anchorTemperature: number;
  readonly meanLegStrain: number;
}

interface Model {
  readonly device: BuiltDevice;
  readonly heat: HeatNetwork;
  readonly conditions: Conditions;
}

const mean = (values: readonly number[]): number =>
  values.length === 0 ? Number.NaN : values.reduce((sum, value) => sum + value, 0) / values.length;

type Fields = Pick<SteadyState, "fields" | "junctionTemperatures">;

function legs({ device, heat }: Model, { fields }: Fields) {
  return device.beams.flatMap((beam, index) => (beam.part.isLeg ? [{ beam, field: fields[heat.branchOfBeam[index]!]! }] : []));
}

/** Direction of the part that a branch belongs to, [rad]. */
export function angleOfBranch({ device, heat }: Model, branch: number): number {
  const owner = heat.owners[branch]!;
  return owner.kind === "beam" ? device.beams[owner.beam]!.angle : device.bodies[heat.spines[owner.spine]!.body]!.slab.turn;
}

/** Name of the part that a branch belongs to. */
export function partOfBranch({ device, heat }: Model, branch: number): string {
  const owner = heat.owners[branch]!;
  if (owner.kind === "beam") return device.beams[owner.beam]!.part.name;
  return device.bodies[heat.spines[owner.spine]!.body]!.part.name;
}

/** Temperature of a place of the network, [K]. */
export function temperatureThere(place: WarmPlace, { fields, junctionTemperatures }: Fields): number {
  return "junction" in place ? junctionTemperatures[place.junction]! : temperatureAlong(fields[place.branch]!, place.along);
}

/** Hottest point anywhere, or within one part; the place in words. */
export function hottestOf(model: Model, state: Fields, part?: string): { temperature: number; place: string } {
  let hottest = { temperature: Number.NEGATIVE_INFINITY, place: "" };
  state.fields.forEach((field, branch) => {
    const name = partOfBranch(model, branch);
    if (part !== undefined && name !== part) return;
    const extreme = extremeTemperature(field, 1);
    // of two equally hot places, as left and right of a symmetric device, the first is told
    const isHotter = extreme.temperature > hottest.temperature * (1 + 1e-9);
    if (!isHotter) {
      hottest = { ...hottest, temperature: Math.max(hottest.temperature, extreme.temperature) };
      return;
    }
    const isBeam = model.heat.owners[branch]!.kind === "beam";
    const share = Math.round((100 * extreme.position) / field.length);
    hottest = { temperature: extreme.temperature, place: isBeam ? `${name}, ${share} % of the way in` : name };
  });
  return hottest;
}

/** Mean temperature over a part: along a beam, or along the spine of a plate; of an anchor, its own. */
export function meanOfPart(model: Model, state: Fields, part: string): number {
  const { device, heat } = model;
  const body = device.bodies.findIndex((entry) => entry.part.name === part);
  if (body >= 0 && heat.junctionOfBody[body]! >= 0) return state.junctionTemperatures[heat.junctionOfBody[body]!]!;
  let [sum, length] = [0, 0];
  state.fields.forEach((field, branch) => {
    if (heat.owners[branch]!.kind === "link" || partOfBranch(model, branch) !== part) return;
    sum += field.length * meanTemperature(field);
    length += field.length;
  });
  return sum / length;
}

/** Mean over all silicon that moves, by volume; anchors are left out. */
export function meanOfSilicon({ device, heat }: Pick<Model, "device" | "heat">, { fields }: Pick<SteadyState, "fields">): number {
  let [sum, area] = [0, 0];
  fields.forEach((field, branch) => {
    const owner = heat.owners[branch]!;
    if (owner.kind === "link") return;
    const widths =
      owner.kind === "beam" ? device.beams[owner.beam]!.widths : evenWidth(solidWidth(device, heat.spines[owner.spine]!));
    sum += field.length * meanOverTaper(field, widths);
    area += field.length * mean(widths);
  });
  return sum / area;
}

const evenWidth = (width: number): readonly [number, number] => [width, width];

/** Parts that a tapered beam is cut into for a mean by volume: off by the square of a part, 1e-4 of what the taper changes. */
const nTaperParts = 64;

/** Mean along a branch of its temperature times its width, [K m]. */
function meanOverTaper(field: BranchField, widths: readonly [start: number, end: number]): number {
  const [start, end] = widths;
  if (start === end) return start * meanTemperature(field);
  const means = new Float64Array(nTaperParts);
  partMeansInto(means, field, { quantity: (T) => T });
  const weighted = means.map((T, i) => T * (start + ((end - start) * (i + 0.5)) / nTaperParts));
  return weighted.reduce((sum, value) => sum + value, 0) / nTaperParts;
}

/** Width of a plate's silicon across its spine, its openings taken off evenly, [m]. */
function solidWidth(device: BuiltDevice, { body, width }: PlateSpine): number {
  return width * solidShares(device.bodies[body]!).area;
}

export function temperatureResults(model: Model, state: Fields): TemperatureResults {
  const { device, heat, conditions } = model;
  const found = legs(model, state);
  const hottest = hottestOf(model, state);
  const anchors = device.bodies.flatMap((body, index) =>
    body.part.kind === "anchor" && body.part.wire !== undefined ? [state.junctionTemperatures[heat.junctionOfBody[index]!]!] : [],
  );
  return {
    hottestTemperature: hottest.temperature,
    hottestPlace: hottest.place,
    meanLegTemperature: mean(found.map(({ field }) => meanTemperature(field))),
    shuttleTemperature: shuttleTemperature(model, state),
    anchorTemperature: anchors.length === 0 ? Number.NaN : Math.max(...anchors),
    meanLegStrain: mean(
      found.map(({ beam, field }) =>
        meanFreeStrain(field, conditions.materialAlong(beam.angle).expansion, { stressFreeTemperature: conditions.ambient }),
      ),
    ),
  };
}

/** Mean of the shuttle's nodes where something is joined; of the point that is pushed where there is no shuttle. */
function shuttleTemperature({ device, heat }: Model, state: Fields): number {
  const nodes = device.bodies.flatMap((body, index) => {
    if (body.part.kind !== "plate" || !body.part.isShuttle) return [];
    const spine = heat.spineOfBody[index]!;
    const first = heat.firstJunctionOfSpine[spine]!;
    return [...new Set(heat.spines[spine]!.attachments.map((entry) => first + entry.node))];
  });
  if (nodes.length > 0) return mean(nodes.map((node) => state.junctionTemperatures[node]!));
  const { output } = device.drawing;
  const found = output === undefined ? undefined : heat.warmthAt(output.at);
  return found === undefined ? Number.NaN : temperatureThere(found, state);
}
