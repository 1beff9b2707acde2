/** Everything that a model of a device is made of, put together once. */
import { createElectroThermalModel, type ElectroThermalModel } from "#physics";
import type { Conditions } from "../conditions.ts";
import type { Drawing, Place } from "../drawing/part.ts";
import { type BuiltDevice, buildDevice } from "./built-device.ts";
import { buildElasticFrame, type ElasticFrame } from "./elastic-frame.ts";
import { restStrains } from "./free-strains.ts";
import { buildHeatNetwork, type HeatNetwork } from "./heat-network.ts";
import { Mechanics } from "./mechanics.ts";

export interface DeviceParts {
  readonly device: BuiltDevice;
  readonly conditions: Conditions;
  readonly heat: HeatNetwork;
  readonly thermal: ElectroThermalModel;
  readonly frame: ElasticFrame;
  readonly mechanics: Mechanics;
  /** Stiffness along the travel of idealised springs at the output, [N/m]. */
  readonly loadStiffness: number;
}

/** Elements along beams: displacement error below 2e-5 for the published bent beams with eight a leg. */
const elements = { leg: 8, other: 6, spine: 2 } as const;

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

/** Throws AssemblyError where the drawing cannot be built or modelled. */
export function putTogether(drawing: Drawing, conditions: Conditions, like: DeviceParts | undefined): DeviceParts {
  const device = buildDevice(drawing, conditions);
  const asked = askedPlaces(drawing);
  const heat = buildHeatNetwork(device, conditions, { extra: asked, like: like?.heat });
  const frame = buildElasticFrame(device, conditions, { heat, elements, asked });
  const mechanics = new Mechanics(frame, {
    output: drawing.output,
    restStrains: restStrains({ device, heat, frame, conditions }),
    like: like?.mechanics.model,
  });
  return {
    device,
    conditions,
    heat,
    thermal: createElectroThermalModel(heat.network),
    frame,
    mechanics,
    loadStiffness: loadStiffnessOf(drawing),
  };
}
