/**
 * Collecting the frame model of a device from its parts.
 *
 * Points carry places and supports; nodes carry temperature and potential. Several points may share a node: all legs that end in one
 * anchor, which is warm and live as a whole. Parts state target sizes; `inward` moves every silicon edge once, here and nowhere else.
 */

import { AssemblyError } from "./assembly-error.ts";

/** How far silicon edges lie inside their targets as built, and how thick the silicon is. */
export interface BuiltSizes {
  /** [m], positive where lines came out narrower and openings wider than their targets. */
  readonly inward: number;
  /** [m] */
  readonly thickness: number;
}

/** A plate between rows of beams: the gas sees it along the beams, so that only its two free ends lose heat sideways. */
export interface PlateShare {
  /** Along the beams, [m]. */
  readonly width: number;
  /** Across the beams, [m]. */
  readonly height: number;
  /** Part of the plate that belongs to the node. */
  readonly share: number;
  /** Clear distance from its ends to cold anchored silicon, [m]; undefined where there is none. */
  readonly wallDistance: number | undefined;
}

export interface FrameNode {
  readonly name: string;
  /** "sink": held at the temperature of the surroundings. Otherwise heat leaves through `sinkResistance`, or not at all. */
  readonly held: boolean;
  /** Thermal resistance to the heat sink below, [K/W]. */
  readonly sinkResistance: number | undefined;
  /** Heat conductance to the surroundings that stands for parts not modelled, [W/K]. */
  readonly leak: number;
  /** Terminal that the node is wired to. */
  readonly terminal: number | undefined;
  /** Resistance of that wiring, [ohm]. */
  readonly leadResistance: number;
  /** Part of a wide flat part whose loss is lumped in this node. */
  readonly plate: PlateShare | undefined;
}

export interface FramePoint {
  readonly name: string;
  /** Place as built, [m]. */
  readonly x: number;
  readonly y: number;
  readonly node: number;
  readonly fixed: boolean;
}

export type BeamRole = "leg" | "link" | "bar";

export interface FrameBeam {
  readonly name: string;
  readonly role: BeamRole;
  readonly from: number;
  readonly to: number;
  /** Width as built, [m]. */
  readonly width: number;
}

/** Beams side by side over the recess, seen along the beams: what the gas loss of each depends on. */
export interface CrossSection {
  /** One row per place across; `beams` are all beams that stand there (left and right of the shuttle). */
  readonly rows: readonly { readonly position: number; readonly width: number; readonly beams: readonly number[] }[];
  /** Clear distance from the outermost beams to cold anchored silicon, [m]; undefined where there is none. */
  readonly wallDistance: number | undefined;
}

/** Where the device pushes: the point whose motion is the travel, and what hangs on it. */
export interface FrameOutput {
  readonly point: number;
  /** Stiffness along the travel of what is pushed, [N/m]. */
  readonly loadStiffness: number;
}

export interface Frame {
  readonly sizes: BuiltSizes;
  readonly nodes: readonly FrameNode[];
  readonly points: readonly FramePoint[];
  readonly beams: readonly FrameBeam[];
  readonly crossSections: readonly CrossSection[];
  readonly output: FrameOutput | undefined;
  /** Node that stands for the shuttle in metrics. */
  readonly shuttleNodes: readonly number[];
}

export class FrameBuilder {
  private readonly nodes: FrameNode[] = [];
  private readonly points: FramePoint[] = [];
  private readonly beams: FrameBeam[] = [];
  private readonly crossSections: CrossSection[] = [];
  private readonly nodeByName = new Map<string, number>();
  private readonly pointByName = new Map<string, number>();
  private readonly beamByName = new Map<string, number>();
  private readonly shuttleNodes: number[] = [];
  private output: FrameOutput | undefined;

  constructor(readonly sizes: BuiltSizes) {}

  /** Built width of a silicon line of this target width, [m]. */
  lineWidth(target: number, name: string): number {
    const built = target - 2 * this.sizes.inward;
    if (!(built > 0))
      throw new AssemblyError(
        `${name} cannot be built: a line of ${(target * 1e6).toFixed(2)} um is etched away when each edge loses ${(this.sizes.inward * 1e6).toFixed(2)} um`,
      );
    return built;
  }

  addNode(name: string, rest: Partial<Omit<FrameNode, "name">>): number {
    const node: FrameNode = {
      name,
      held: false,
      sinkResistance: undefined,
      leak: 0,
      terminal: undefined,
      leadResistance: 0,
      plate: undefined,
      ...rest,
    };
    this.nodeByName.set(name, this.nodes.push(node) - 1);
    return this.nodes.length - 1;
  }

  addPoint(name: string, rest: Omit<FramePoint, "name">): number {
    this.pointByName.set(name, this.points.push({ name, ...rest }) - 1);
    return this.points.length - 1;
  }

  addBeam(beam: FrameBeam): number {
    this.beamByName.set(beam.name, this.beams.push(beam) - 1);
    return this.beams.length - 1;
  }

  addCrossSection(section: CrossSection): void {
    this.crossSections.push(section);
  }

  markShuttleNode(node: number): void {
    this.shuttleNodes.push(node);
  }

  setOutput(output: FrameOutput): void {
    this.output = output;
  }

  node(name: string): number {
    return found(this.nodeByName.get(name), `node "${name}"`);
  }

  point(name: string): number {
    return found(this.pointByName.get(name), `point "${name}"`);
  }

  beam(name: string): number {
    return found(this.beamByName.get(name), `beam "${name}"`);
  }

  finish(): Frame {
    return {
      sizes: this.sizes,
      nodes: this.nodes,
      points: this.points,
      beams: this.beams,
      crossSections: this.crossSections,
      output: this.output,
      shuttleNodes: this.shuttleNodes,
    };
  }
}

function found(index: number | undefined, what: string): number {
  if (index === undefined) throw new AssemblyError(`the part that makes ${what} must come first`);
  return index;
}
