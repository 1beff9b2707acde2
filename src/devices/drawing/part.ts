/**
 * What devices are made of, as data at target size. Parts carry no names of each other: silicon that touches is one body, so a beam
 * that ends on an anchor or a plate is joined to it, and beams that end in one place are joined there.
 * Coordinates in metres, x right, y up, turns counter-clockwise.
 */
import type { Law } from "#base";

export interface Place {
  readonly x: number;
  readonly y: number;
}

/** A rectangle, possibly turned about its centre. */
export interface Slab {
  readonly centre: Place;
  /** Along its own x axis, [m]. */
  readonly width: number;
  /** Along its own y axis, [m]. */
  readonly height: number;
  /** [rad] */
  readonly turn: number;
}

/** How heat leaves an anchor: not at all warm, computed for the glass under it, or through a given resistance [K/W]. */
export type AnchorHeat = "ideal" | "glass" | number;

/** Silicon bonded to the glass. It is warm and live as a whole: it conducts a hundred times better than the glass. */
export interface AnchorPart {
  readonly kind: "anchor";
  readonly name: string;
  readonly slab: Slab;
  readonly heat: AnchorHeat;
  /** Net that it is wired to; undefined where it floats. */
  readonly wire: string | undefined;
  /** Resistance of pad and lead of that wire, [ohm]. */
  readonly leadResistance: number;
}

/** Parallel slits through a plate, along its own x axis, in its middle. */
export interface SlitField {
  readonly count: number;
  readonly width: number;
  readonly pitch: number;
  /** Lengths in a row, between ribs. */
  readonly lengths: number;
  /** Clear length of each, [m]. */
  readonly length: number;
  /** Rib between two lengths, [m]. */
  readonly rib: number;
}

/** Square holes in rows and columns through a plate, in its middle. */
export interface HoleField {
  readonly columns: number;
  readonly rows: number;
  readonly side: number;
  readonly pitch: number;
}

/** A plate that moves: a rigid body, or one that bends along its spine. */
export interface PlatePart {
  readonly kind: "plate";
  readonly name: string;
  readonly slab: Slab;
  readonly bends: boolean;
  readonly slits: SlitField | undefined;
  readonly holes: HoleField | undefined;
  /** Own axis along which heat and current are followed; across it the plate is taken as equally warm. */
  readonly spine: "x" | "y";
  /** Extra heat conductance to the surroundings, [W/K]. */
  readonly leak: number;
  /** Part of a bank that stands at the legs' place in metrics. */
  readonly isShuttle: boolean;
}

export interface BeamPart {
  readonly kind: "beam";
  readonly name: string;
  /** Legs are those whose temperature, strain and force the metrics of bent beams speak of. */
  readonly isLeg: boolean;
  /** Centre line from start to end, [n × 2] m: two points where straight. */
  readonly line: Float64Array;
  /** Width at the start and at the end, linear in between, [m]. */
  readonly widths: readonly [start: number, end: number];
  /** Radius of the fillets at its roots, on the mask; 0 = sharp, [m]. */
  readonly fillet: number;
  readonly hinged: readonly [start: boolean, end: boolean];
  /** Heat lost per length and kelvin, given for this beam in place of the device's heat loss, [W/(m K)]. */
  readonly lossPerLength?: number | undefined;
}

/** Metal on the glass: a probe pad, a tab under an anchor, a wire. */
export interface MetalPart {
  readonly kind: "metal";
  readonly name: string;
  /** [n × 2] m, counter-clockwise. */
  readonly outline: Float64Array;
}

/** Idealised: motions held at a place, without any silicon there. */
export interface SupportPart {
  readonly kind: "support";
  readonly name: string;
  readonly at: Place;
  readonly holds: readonly ("x" | "y" | "turn" | "z")[];
}

/** Idealised: springs to ground at a place, along the axes of the die. [N/m], [N m/rad] */
export interface SpringPart {
  readonly kind: "spring";
  readonly name: string;
  readonly at: Place;
  readonly x: number;
  readonly y: number;
  readonly turn: number;
}

/** Something rigid in the way of a place. */
export interface StopPart {
  readonly kind: "stop";
  readonly name: string;
  readonly at: Place;
  /** Direction of the motion that closes the gap, [rad]. */
  readonly direction: number;
  /** As built, [m]. */
  readonly gap: number;
}

/** Idealised: something that hangs on a place and is not drawn. */
export interface LumpPart {
  readonly kind: "lump";
  readonly name: string;
  readonly at: Place;
  /** [kg] */
  readonly mass: number;
  /** Heat conductance to the surroundings, [W/K]. */
  readonly leak: number;
}

export type Part = AnchorPart | PlatePart | BeamPart | MetalPart | SupportPart | SpringPart | StopPart | LumpPart;

/** Parts that are bodies which beams may end on. */
export type BodyPart = AnchorPart | PlatePart;

/** How beams and plates lose heat besides through their ends: computed for the gas, not at all, or as given. */
export type HeatLoss =
  | "gas"
  | "none"
  | {
      /** Of each beam, per length and kelvin, [W/(m K)]. */
      readonly perLength: number | undefined;
      /** Of every underside, per area and kelvin, as a law of the wall temperature, [W/(m^2 K)]. */
      readonly film: Law | undefined;
    };

/** The point that a device moves, and the direction called travel. */
export interface Output {
  readonly at: Place;
  /** [rad] from the x axis */
  readonly direction: number;
  /** True where what it pushes keeps it from moving aside and from turning, when it is blocked. */
  readonly guided: boolean;
}

/** Light that passes slits of a blade above slits fixed in the metal on the glass. */
export interface LightSetup {
  /** Name of the plate with the slits. */
  readonly blade: string;
  /** Width of the fixed slits, as wide apart as those of the blade, [m]. */
  readonly fixedSlit: number;
  /** How far the fixed slits lie above the middle of the bars that cover them, as drawn, [m]. */
  readonly offset: number;
  /** Half-angle of the cone that the light comes in, [rad]. */
  readonly cone: number;
  readonly metalReflectance: number;
  /** Refractive index of the blade. */
  readonly bladeIndex: number;
}

/** A whole device at target size. */
export interface Drawing {
  readonly parts: readonly Part[];
  /** Named places, for loads, metrics and other devices' parts. */
  readonly points: ReadonlyMap<string, Place>;
  readonly output: Output | undefined;
  readonly light: LightSetup | undefined;
  readonly heatLoss: HeatLoss;
  /** True where bodies give a little where beams root in them; false: they are rigid there. */
  readonly rootsGive: boolean;
  /**
   * "shared": bodies beside each other share the gas between them. "averaged": so do all legs together, each losing their mean. "apart":
   * each loses heat as if alone.
   */
  readonly neighbours: "shared" | "averaged" | "apart";
  /** Clear width kept open round the device, [m]; undefined for an idealised device without a mask. */
  readonly trench: number | undefined;
}
