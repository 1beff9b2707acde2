/** Frames that several tests of small motion share. */
import type { FrameBeam, FrameJunction, FrameNetwork, RigidBodyMass } from "./network.ts";

export interface SampleBeam {
  readonly from: number;
  readonly to: number;
  /** Places of the two ends [m]. */
  readonly start: readonly [x: number, y: number];
  readonly end: readonly [x: number, y: number];
  readonly width: number;
  readonly thickness: number;
  readonly nElements: number;
}

export interface SampleMaterial {
  readonly youngsModulus: number;
  readonly shearModulus: number | undefined;
  readonly density: number | undefined;
}

/** A straight even beam. */
export function straightBeam(beam: SampleBeam, material: SampleMaterial): FrameBeam {
  const { from, to, start, end, width, thickness, nElements } = beam;
  const nodes = new Float64Array(2 * (nElements + 1));
  for (let i = 0; i <= nElements; i++) {
    nodes[2 * i] = start[0] + ((end[0] - start[0]) * i) / nElements;
    nodes[2 * i + 1] = start[1] + ((end[1] - start[1]) * i) / nElements;
  }
  return { name: `beam ${from}-${to}`, from, to, nodes, widths: new Float64Array(nElements).fill(width), thickness, ...material };
}

export const clamped: FrameJunction["held"] = ["x", "y", "turn", "z", "turn x", "turn y"];

export function junctionAt(x: number, y: number, more: Partial<FrameJunction> = {}): FrameJunction {
  return { name: `${x}, ${y}`, x, y, held: [], ...more };
}

/** Inertia of a plate with its centre of mass at the junction or at an offset. */
export function plateMass(
  size: { readonly width: number; readonly height: number; readonly thickness: number },
  options: { readonly density: number; readonly centre?: readonly [number, number] },
): RigidBodyMass {
  const { width: w, height: h, thickness: t } = size;
  const mass = options.density * w * h * t;
  return {
    mass,
    centre: options.centre ?? [0, 0],
    aboutX: (mass * (h * h + t * t)) / 12,
    aboutY: (mass * (w * w + t * t)) / 12,
    aboutZ: (mass * (w * w + h * h)) / 12,
  };
}

export interface BentBeamDevice {
  readonly pairs: number;
  readonly shuttleWidth: number;
  readonly nElements: number;
  readonly material: SampleMaterial;
  readonly hasVane: boolean;
  /** How far beams reach into the bodies that hold them, in widths: stands for the give of the body around the root. */
  readonly rootDepth: number;
}

const um = 1e-6;

/**
 * Pairs of legs 500 um x 8 um at 3 degrees on a shuttle that reaches 20 um beyond them, 40 um thick; with a vane: an arm 20 x 200 um on
 * the shuttle and a plate 300 x 300 um with 7 x 7 holes of 10 um. Junction 0 is the shuttle, the vane's is the last.
 */
export function bentBeamDevice(device: BentBeamDevice): FrameNetwork {
  const { pairs, shuttleWidth, nElements, material, hasVane, rootDepth } = device;
  const thickness = 40 * um;
  const half = (shuttleWidth * um) / 2;
  const pitch = 20 * um;
  const length = 500 * um;
  const rise = length * Math.tan((3 * Math.PI) / 180);
  const height = (pairs - 1) * pitch + 40 * um;
  const density = material.density!;
  const junctions = [junctionAt(0, 0, { body: plateMass({ width: 2 * half, height, thickness }, { density }) })];
  const beams: FrameBeam[] = [];
  for (let i = 0; i < pairs; i++) {
    const y = (i - (pairs - 1) / 2) * pitch;
    for (const side of [-1, 1]) {
      const start = [side * (half + length), y - rise] as const;
      beams.push(
        straightBeam(
          {
            from: junctions.length,
            to: 0,
            start,
            end: [side * (half - rootDepth * 8 * um), y],
            width: 8 * um,
            thickness,
            nElements,
          },
          material,
        ),
      );
      junctions.push(junctionAt(start[0], start[1], { held: clamped }));
    }
  }
  if (hasVane) {
    const vane = junctions.length;
    const top = height / 2;
    const depth = rootDepth * 20 * um;
    const plate = plateMass({ width: 300 * um, height: 300 * um, thickness }, { density });
    // The holes stand at -3..3 times 40 um: their moment about an axis in the plane is 49 (4 (40 um)^2 + (10 um)^2/12) of their mass.
    const hole = density * 100 * um * um * thickness;
    const side = 49 * hole * (4 * (40 * um) ** 2 + (10 * um) ** 2 / 12);
    const flat = (49 * hole * thickness ** 2) / 12;
    const body = {
      mass: plate.mass - 49 * hole,
      centre: [0, 0] as const,
      aboutX: plate.aboutX - side - flat,
      aboutY: plate.aboutY - side - flat,
      aboutZ: plate.aboutZ - 2 * side,
    };
    junctions.push(junctionAt(0, top + 350 * um, { body }));
    beams.push(
      straightBeam(
        { from: 0, to: vane, start: [0, top - depth], end: [0, top + 200 * um + depth], width: 20 * um, thickness, nElements },
        material,
      ),
    );
  }
  return { junctions, beams };
}
