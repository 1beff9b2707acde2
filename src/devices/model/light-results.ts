/** Light through the slits of a blade, closed and open, by rays. */
import { lightThroughSlitGrids, type SlitGrids } from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { LightSetup, Slab } from "../drawing/part.ts";
import type { DeviceParts } from "./device-parts.ts";

export interface LightModel {
  /** Transmitted share of the light on the slit field, ribs counted, at a motion of the blade from where it was drawn, [m]. */
  transmittedAt(motion: { readonly x: number; readonly y: number }): number;
  /** The same with the blade half a pitch from closed: as open as it can be. */
  readonly open: number;
  readonly slab: Slab;
}

/** The shutter of a device. Throws AssemblyError where the blade is not one. */
export function createLightModel(parts: DeviceParts, setup: LightSetup): LightModel {
  const { device, conditions } = parts;
  const body = device.bodies.find((entry) => entry.part.name === setup.blade);
  if (body?.slits === undefined) throw new AssemblyError(`light names "${setup.blade}", which is no plate with slits`);
  if (conditions.gap === undefined)
    throw new AssemblyError('light through slits needs "gap under silicon" in the section process');
  const { slits, slab } = body;
  const ribShare = (slits.lengths * slits.length) / (slits.lengths * slits.length + (slits.lengths - 1) * slits.rib);
  const grids: Omit<SlitGrids, "offset"> = {
    pitch: slits.pitch,
    fixedSlit: setup.fixedSlit,
    bladeSlit: slits.width,
    gap: conditions.gap,
    thickness: conditions.thickness,
    metalReflectance: setup.metalReflectance,
    blade: { n: setup.bladeIndex },
  };
  const ownKey = [...Object.values(grids).filter((entry) => typeof entry === "number"), setup.bladeIndex, setup.cone];
  // what does not change between models, such as the light at rest, is traced once
  const through = (offset: number): number => {
    const key = `light ${[...ownKey, offset].map((entry) => entry.toPrecision(12)).join(" ")}`;
    let known = conditions.shapeFactors.get(key);
    if (known === undefined) {
      const light = { halfAngle: setup.cone, from: "blade" } as const;
      known = Float64Array.of(lightThroughSlitGrids({ ...grids, offset }, light, { mode: "fast" }).transmitted);
      conditions.shapeFactors.set(key, known);
    }
    return ribShare * known[0]!;
  };
  const [c, s] = [Math.cos(slab.turn), Math.sin(slab.turn)];
  let open: number | undefined;
  return {
    slab,
    transmittedAt: ({ x, y }) => through(-s * x + c * y - setup.offset),
    get open() {
      open ??= through(slits.pitch / 2);
      return open;
    },
  };
}

/** Travel at which a shutter that has moved this far counts as closed again, [m]; undefined where it never is. */
export function closedTravel(parts: DeviceParts, travel: number): number | undefined {
  const { light: setup, output } = parts.device.drawing;
  if (setup === undefined || output === undefined) return 0.1 * travel;
  const model = createLightModel(parts, setup);
  const site = parts.mechanics.siteAt(model.slab.centre, "the blade");
  const rest = parts.mechanics.motionOf(parts.mechanics.rest, site);
  const [c, s] = [Math.cos(output.direction), Math.sin(output.direction)];
  const isClosed = (way: number): boolean => model.transmittedAt({ x: rest.x + way * c, y: rest.y + way * s }) < 0.1 * model.open;
  // light grows with the travel from closed to open: halve the way to the tenth
  let [low, high] = [0, travel];
  if (!isClosed(0)) return undefined;
  for (let i = 0; i < 20; i++) {
    const middle = (low + high) / 2;
    if (isClosed(middle)) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
