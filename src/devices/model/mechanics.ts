/** The elastic frame of a device with its states: at rest, and under free strains and loads. */
import type { Finding } from "#base";
import {
  createFrameModel,
  estimateNeighbour,
  type FrameEquilibrium,
  type FrameLoad,
  type FrameModel,
  type FrameState,
  flexibilityAt,
  type HeldMotion,
  motionAt,
} from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Output, Place } from "../drawing/part.ts";
import type { Loads } from "./drive.ts";
import { type ElasticFrame, type FrameSite, forcesAt } from "./elastic-frame.ts";
import type { FreeStrains } from "./free-strains.ts";

/** A solved frame, with the model and load that it belongs to. */
export interface Motion {
  readonly model: FrameModel;
  readonly load: FrameLoad;
  readonly state: FrameEquilibrium;
}

export interface NoMotion {
  readonly reason: string;
  readonly finding: Finding;
}

export interface PlaceMotion {
  /** [m] */
  readonly x: number;
  readonly y: number;
  /** [rad] */
  readonly turn: number;
}

export class Mechanics {
  readonly model: FrameModel;
  private restMade: Motion | undefined;

  constructor(
    readonly frame: ElasticFrame,
    private readonly options: {
      readonly output: Output | undefined;
      readonly restStrains: FreeStrains;
      /** A model of the same make, whose numbering is taken over. */
      readonly like: FrameModel | undefined;
    },
  ) {
    this.model = createFrameModel(frame.network, options.like === undefined ? {} : { like: options.like });
  }

  /** Balance without heat or load: what the bond alone does. */
  get rest(): Motion {
    if (this.restMade === undefined) {
      const load: FrameLoad = this.options.restStrains;
      const state = this.model.solve(load);
      if (state.outcome === "no equilibrium") throw new AssemblyError(`the bond strain alone buckles it: ${state.reason}`);
      this.restMade = { model: this.model, load, state };
    }
    return this.restMade;
  }

  /** Throws FreeMotionError where nothing resists a motion in the plane. */
  requireHeld(): void {
    this.model.solveLinear(this.options.restStrains);
  }

  /** Place of the frame at a place of the drawing. Throws AssemblyError where nothing is. */
  siteAt(place: Place, what: string): FrameSite {
    const site = this.frame.siteAt(place);
    if (site === undefined)
      throw new AssemblyError(`${what} lies on no part: a beam must end or have its joint there, or a plate lie there`);
    return site;
  }

  loadOf(strains: FreeStrains, loads: Loads): FrameLoad {
    const { output } = this.options;
    const forces = loads.forces.flatMap((force) => forcesAt(this.siteAt(force.at, "a force"), force));
    if (loads.againstTravel !== 0 && output !== undefined) {
      const [c, s] = [Math.cos(output.direction), Math.sin(output.direction)];
      const push = -loads.againstTravel;
      forces.push(...forcesAt(this.siteAt(output.at, "the output"), { x: push * c, y: push * s, turn: 0 }));
    }
    const held = loads.held.map(({ at, motion, value }): HeldMotion => {
      const { junction, offset } = this.siteAt(at, "a held point");
      if (Math.hypot(...offset) > 1e-9)
        throw new AssemblyError("a held point lies on a plate beside its output or support: hold the plate there");
      return { junction, motion, value };
    });
    return { ...strains, forces, held, acceleration: loads.acceleration };
  }

  /** Balance under strains and loads, near `start` where there is one. */
  solve(load: FrameLoad, start: FrameState | undefined): Motion | NoMotion {
    // a state of another number of elements is no start
    const fits = start !== undefined && start.allMotions.length === this.model.topology.nMotions;
    const state = this.model.solve(load, fits ? { start } : {});
    if (state.outcome === "equilibrium") return { model: this.model, load, state };
    return {
      reason: state.reason,
      finding: {
        code: "buckled",
        severity: "error",
        where: "beams",
        message: `The beams have no stable state of balance near their drawn shape: ${state.reason}.`,
      },
    };
  }

  /** True where a state of another model can be carried over to this one to first order. */
  isLike(near: Motion): boolean {
    return near.model.topology === this.model.topology;
  }

  /** Balance to first order, from that of a neighbouring model. */
  estimate(load: FrameLoad, near: Motion): Motion {
    const state = estimateNeighbour(near.state, { from: near.model, model: this.model, load });
    return { model: this.model, load, state };
  }

  /** Motion of a place from where it was drawn. */
  motionOf(motion: Motion, site: FrameSite): PlaceMotion {
    const take = (kind: "x" | "y" | "turn"): number => motionAt(motion.model, motion.state, { ...site, motion: kind });
    return { x: take("x"), y: take("y"), turn: take("turn") };
  }
}

export function isMotion(found: Motion | NoMotion): found is Motion {
  return "state" in found;
}

/** Part of the give without stops below which what is left beside a closed one is rounding. */
const giveOfRounding = 1e-11;

/** Force per motion of a small push along a direction [rad] at a place of a solved frame, [N/m]; infinite where a stop or the case holds it. */
export function stiffnessOf(motion: Motion, site: FrameSite, direction: number): number {
  const { model, state } = motion;
  const [c, s] = [Math.cos(direction), Math.sin(direction)];
  const giveOf = (f: Float64Array): number => c * (c * f[0]! + s * f[1]!) + s * (c * f[3]! + s * f[4]!);
  const give = giveOf(flexibilityAt(model, state, site));
  const isHeld =
    give === 0 ||
    (closedStops(motion).length > 0 &&
      Math.abs(give) < giveOfRounding * Math.abs(giveOf(flexibilityAt(model, state, { ...site, withoutStops: true }))));
  return isHeld ? Number.POSITIVE_INFINITY : 1 / give;
}

/** Names of the stops that something presses on. */
export function closedStops({ state }: Motion): readonly string[] {
  return state.stops.flatMap(({ name, force }) => (force === 0 ? [] : [name]));
}
