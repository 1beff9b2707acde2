/** Everything that a model of a device is made of, put together once. */
import { createElectroThermalModel, type ElectroThermalModel } from "#physics";
import type { Conditions } from "../conditions.ts";
import type { Drawing, Place } from "../drawing/part.ts";
import { type BuiltDevice, buildDevice } from "./built-device.ts";
import { buildElasticFrame, type ElasticFrame, type Elements } from "./elastic-frame.ts";
import { restStrains } from "./free-strains.ts";
import { buildHeatNetwork, type HeatNetwork } from "./heat-network.ts";
import { Mechanics } from "./mechanics.ts";

export interface DeviceParts {
  readonly device: BuiltDevice;
  readonly conditions: Conditions;
  readonly heat: HeatNetwork;
  /** Made when it is first asked for: a device that no current ever warms need not be cooled. */
  readonly thermal: () => ElectroThermalModel;
  readonly frame: ElasticFrame;
  readonly mechanics: Mechanics;
  readonly elements: Elements;
  /** Stiffness along the travel of idealised springs at the output, [N/m]. */
  readonly loadStiffness: number;
}

/** Elements to begin with: displacement error below 2e-5 for the published bent beams with eight a leg. */
const firstElements: Elements = { leg: 8, other: 6, spine: 2 };

/** Places where something acts or is asked, so that plates have their junction there: the output first. */
function askedPlaces(drawing: Drawing): Place[] {
  const idealised = drawing.parts.flatMap((part) =>
    part.kind === "support" || part.kind === "spring" || part.kind === "stop" || part.kind === "lump" ? [part.at] : [],
  );
  return drawing.output === undefined ? idealised : [drawing.output.at, ...idealised];
}

function loadStiffnessOf({ parts, output }: Drawing): number {
  if (output === undefined) return 0;
  const [c, s] = [Math.cos(output.direction), Math.sin(output.direction)];
  return parts.reduce((sum, part) => {
    if (part.kind !== "spring" || Math.hypot(part.at.x - output.at.x, part.at.y - output.at.y) > 1e-9) return sum;
    return sum + part.x * c * c + part.y * s * s;
  }, 0);
}

function frameOf(
  rest: Pick<DeviceParts, "device" | "conditions" | "heat">,
  elements: Elements,
  like: DeviceParts | undefined,
): Pick<DeviceParts, "frame" | "mechanics" | "elements"> {
  const { device, conditions, heat } = rest;
  const frame = buildElasticFrame(device, conditions, { heat, elements, asked: askedPlaces(device.drawing) });
  const mechanics = new Mechanics(frame, {
    output: device.drawing.output,
    restStrains: restStrains({ device, heat, frame, conditions }),
    like: like?.mechanics.model,
  });
  return { frame, mechanics, elements };
}

/** `like`: a device of the same make. Throws AssemblyError where the drawing cannot be built or modelled. */
export function putTogether(drawing: Drawing, conditions: Conditions, like: DeviceParts | undefined): DeviceParts {
  const device = buildDevice(drawing, conditions);
  const heat = buildHeatNetwork(device, conditions, { extra: askedPlaces(drawing), like: like?.heat });
  let made: ElectroThermalModel | undefined;
  const thermal = (): ElectroThermalModel => {
    made ??= createElectroThermalModel(heat.network);
    return made;
  };
  const rest = { device, conditions, heat, thermal, loadStiffness: loadStiffnessOf(drawing) };
  return { ...rest, ...frameOf(rest, like?.elements ?? firstElements, like) };
}

/** The same device with finer elements along its beams. */
export function refineFrame(parts: DeviceParts, factor: number): DeviceParts {
  const times = (count: number): number => Math.ceil(count * factor);
  const { leg, other, spine } = parts.elements;
  return { ...parts, ...frameOf(parts, { leg: times(leg), other: times(other), spine: times(spine) }, undefined) };
}
