/** Small motion about an operating point: modes, stiffness out of the plane, what an acceleration does. */
import {
  type AccelerationResponse,
  createOutOfPlaneModel,
  type FrameShape,
  findModes,
  type Mode,
  respondToAcceleration,
  shapeOf,
} from "#physics";
import type { Place } from "../drawing/part.ts";
import { outlineOfSlab } from "../drawing/slab.ts";
import type { DeviceParts } from "./device-parts.ts";
import type { FrameSite } from "./elastic-frame.ts";
import type { Motion, PlaceMotion } from "./mechanics.ts";
import type { ShockMotion } from "./operating-point.ts";

export class SmallMotions {
  private readonly shape: FrameShape;
  private readonly modesKnown = new Map<number, readonly Mode[]>();
  private readonly responses = new Map<string, AccelerationResponse>();

  constructor(
    private readonly parts: DeviceParts,
    private readonly motion: Motion,
  ) {
    this.shape = shapeOf(motion.model, motion.state);
  }

  private get about() {
    const { forces, acceleration } = this.motion.load;
    return { ...(forces !== undefined && { forces }), ...(acceleration !== undefined && { acceleration }) };
  }

  modes(count: number): readonly Mode[] {
    let modes = this.modesKnown.get(count);
    if (modes === undefined) {
      modes = findModes(this.parts.frame.network, this.shape, { ...this.about, count }).modes;
      this.modesKnown.set(count, modes);
    }
    return modes;
  }

  frequencies(count: number): readonly number[] {
    // a device without mass has no modes
    const found = this.parts.frame.network.beams.some((beam) => beam.density !== undefined) ? this.modes(count) : [];
    return Array.from({ length: count }, (_, i) => found[i]?.frequency ?? Number.NaN);
  }

  stiffnessAlongZ(place: Place): number {
    const model = createOutOfPlaneModel(this.parts.frame.network, this.shape, this.about);
    return model.stiffnessOf({ ...this.siteAt(place), motion: "z" });
  }

  private siteAt(place: Place): FrameSite {
    return this.parts.mechanics.siteAt(place, "the point");
  }

  private response(change: readonly [number, number, number]): AccelerationResponse {
    const key = change.join(" ");
    let response = this.responses.get(key);
    if (response === undefined) {
      response = respondToAcceleration(this.parts.frame.network, this.shape, { ...this.about, change });
      this.responses.set(key, response);
    }
    return response;
  }

  underAcceleration(change: readonly [number, number, number], place: Place): PlaceMotion & { readonly z: number } {
    return this.atSite(this.response(change), this.siteAt(place));
  }

  private atSite(response: AccelerationResponse, site: FrameSite): PlaceMotion & { readonly z: number } {
    const take = (motion: "x" | "y" | "turn" | "z"): number => response.motionOf({ ...site, motion });
    return { x: take("x"), y: take("y"), turn: take("turn"), z: take("z") };
  }

  /** Largest over the corners of a plate. */
  plateUnderAcceleration(change: readonly [number, number, number], plate: string): ShockMotion {
    const { device, mechanics } = this.parts;
    const body = device.bodies.find((entry) => entry.part.kind === "plate" && entry.part.name === plate);
    if (body === undefined) return { x: Number.NaN, y: Number.NaN, z: Number.NaN, turn: Number.NaN };
    const response = this.response(change);
    // those of the drawn plate: as built it may be a little larger or smaller
    const outline = outlineOfSlab(body.part.slab);
    const motions = [0, 1, 2, 3].map((i) =>
      this.atSite(response, mechanics.siteAt({ x: outline[2 * i]!, y: outline[2 * i + 1]! }, "a corner")),
    );
    const largest = (take: (motion: ShockMotion) => number): number =>
      Math.max(...motions.map((motion) => Math.abs(take(motion))));
    return {
      x: largest(({ x }) => x),
      y: largest(({ y }) => y),
      z: largest(({ z }) => z),
      turn: largest(({ turn }) => turn),
    };
  }
}
