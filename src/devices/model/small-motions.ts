/** Small motion about an operating point: modes, stiffness out of the plane, what an acceleration does. */
import {
  createSmallMotionSystem,
  eigenvalueOf,
  type FrameShape,
  findBucklingFactor,
  findModes,
  type Mode,
  motionOfPoint,
  type SmallMotionPoint,
  type SmallMotionSystem,
  type SmallResponse,
  shapeOf,
  solveSmallMotion,
  stiffnessOfPoint,
} from "#physics";
import type { Place } from "../drawing/part.ts";
import { outlineOfSlab } from "../drawing/slab.ts";
import type { DeviceParts } from "./device-parts.ts";
import type { FrameSite } from "./elastic-frame.ts";
import type { Motion, PlaceMotion } from "./mechanics.ts";

/** How far a device moves at most under an acceleration, by direction. [m], [rad] */
export interface ShockMotion {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Turn in the plane. */
  readonly turn: number;
}

/** Of a point of a body, in the scale of a mode: [m], [rad]. */
export interface SiteMotion extends PlaceMotion {
  readonly z: number;
  readonly turnX: number;
  readonly turnY: number;
}

export type MotionFamily = SmallMotionSystem["family"];

export class SmallMotions {
  private readonly shape: FrameShape;
  private readonly systems = new Map<MotionFamily, SmallMotionSystem>();
  private readonly modesKnown = new Map<number, readonly Mode[]>();
  private readonly responses = new Map<string, readonly SmallResponse[]>();

  constructor(
    private readonly parts: DeviceParts,
    private readonly motion: Motion,
    /** Of a neighbouring device: frequencies then follow to first order from its modes. */
    private readonly near: SmallMotions | undefined,
  ) {
    this.shape = shapeOf(motion.model, motion.state);
  }

  private get pushes() {
    const { forces, acceleration } = this.motion.load;
    return { ...(forces !== undefined && { forces }), ...(acceleration !== undefined && { acceleration }) };
  }

  private system(family: MotionFamily): SmallMotionSystem {
    let system = this.systems.get(family);
    if (system === undefined) {
      system = createSmallMotionSystem(this.parts.frame.network, this.shape, { family, ...this.pushes });
      this.systems.set(family, system);
    }
    return system;
  }

  modes(count: number): readonly Mode[] {
    let modes = this.modesKnown.get(count);
    if (modes === undefined) {
      const systems = { "in plane": this.system("in plane"), "out of plane": this.system("out of plane") };
      modes = findModes(this.parts.frame.network, this.shape, { count, systems }).modes;
      this.modesKnown.set(count, modes);
    }
    return modes;
  }

  /** How a place moves in one of the modes. */
  motionOfMode(mode: Mode, site: FrameSite): SiteMotion {
    const response = { system: this.system(mode.family), load: {}, ...mode };
    const take = (motion: SmallMotionPoint["motion"]): number => motionOfPoint(response, { ...site, motion });
    return {
      x: take("x"),
      y: take("y"),
      turn: take("turn"),
      z: take("z"),
      turnX: take("turn x"),
      turnY: take("turn y"),
    };
  }

  /** A device without mass has no modes. */
  get hasMass(): boolean {
    const { beams, junctions } = this.parts.frame.network;
    return beams.some((beam) => beam.density !== undefined) || junctions.some(({ body }) => body !== undefined);
  }

  /** Of all modes, or of those of one family, ascending. */
  frequencies(count: number, family?: MotionFamily): readonly number[] {
    if (!this.hasMass) return new Array<number>(count).fill(Number.NaN);
    const found = (this.near ?? this).modesOf(count, family);
    const frequencies =
      this.near === undefined ? found.map(({ frequency }) => frequency) : found.map((mode) => this.frequencyNear(mode));
    return Array.from({ length: count }, (_, i) => frequencies[i] ?? Number.NaN);
  }

  /** The lowest modes of a family: as many of both are worked out as it takes. */
  private modesOf(count: number, family: MotionFamily | undefined): readonly Mode[] {
    if (family === undefined) return this.modes(count);
    for (let asked = 2 * count; ; asked *= 2) {
      const all = this.modes(asked);
      const own = all.filter((mode) => mode.family === family);
      if (own.length >= count || all.length < asked) return own.slice(0, count);
    }
  }

  /** Rayleigh's quotient with a neighbour's mode: its error is of the second order in the difference. */
  private frequencyNear({ family, vector }: Mode): number {
    return Math.sqrt(eigenvalueOf(this.system(family), vector)) / (2 * Math.PI);
  }

  /** Infinite where it never buckles, or only under more than a thousand times the forces here. */
  bucklingFactorOutOfPlane(): number {
    return findBucklingFactor(this.parts.frame.network, this.shape, { largestFactor: 1000, ...this.pushes });
  }

  stiffnessAlongZ(place: Place): number {
    return stiffnessOfPoint(this.system("out of plane"), { ...this.siteAt(place), motion: "z" });
  }

  private siteAt(place: Place): FrameSite {
    return this.parts.mechanics.siteAt(place, "the point");
  }

  /** Static answer of both families to an acceleration of the die. */
  private responsesTo(acceleration: readonly [number, number, number]): readonly SmallResponse[] {
    const key = acceleration.join(" ");
    let responses = this.responses.get(key);
    if (responses === undefined) {
      responses = (["in plane", "out of plane"] as const).map((family) =>
        solveSmallMotion(this.system(family), { acceleration }),
      );
      this.responses.set(key, responses);
    }
    return responses;
  }

  underAcceleration(change: readonly [number, number, number], place: Place): PlaceMotion & { readonly z: number } {
    return motionsAt(this.responsesTo(change), this.siteAt(place));
  }

  /** Largest over the corners of a plate. */
  plateUnderAcceleration(change: readonly [number, number, number], plate: string): ShockMotion {
    const { device, mechanics } = this.parts;
    const body = device.bodies.find((entry) => entry.part.kind === "plate" && entry.part.name === plate);
    if (body === undefined) return { x: Number.NaN, y: Number.NaN, z: Number.NaN, turn: Number.NaN };
    const responses = this.responsesTo(change);
    // those of the drawn plate: as built it may be a little larger or smaller
    const outline = outlineOfSlab(body.part.slab);
    const motions = [0, 1, 2, 3].map((i) =>
      motionsAt(responses, mechanics.siteAt({ x: outline[2 * i]!, y: outline[2 * i + 1]! }, "a corner")),
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

function motionsAt(responses: readonly SmallResponse[], site: FrameSite): PlaceMotion & { readonly z: number } {
  const take = (motion: SmallMotionPoint["motion"]): number =>
    responses.reduce((sum, response) => sum + motionOfPoint(response, { ...site, motion }), 0);
  return { x: take("x"), y: take("y"), turn: take("turn"), z: take("z") };
}
