/**
 * The planar frame of a device: legs and bars as flexible members, links of plates as stout ones; free strain of every element from
 * the temperatures along its beam, less the residual tension of the bond.
 */
import {
  type BranchField,
  type FrameLoading,
  type FrameState,
  type JointMotion,
  PlanarFrameModel,
  partMeansInto,
} from "#physics";
import type { Conditions } from "./conditions.ts";
import type { Frame } from "./frame-builder.ts";
import { geometryOf } from "./thermal-network.ts";

/** Elements along a leg or bar: displacement error below 2e-5 for the published bent beams. */
const legElements = 8;
const linkElements = 1;

export interface Mechanics {
  readonly model: PlanarFrameModel;
  /** Free strains without heat: the bond alone. */
  readonly rest: FrameLoading;
  readonly restState: FrameState;
  /** Motion of the output point along the travel, undefined where nothing is pushed. */
  readonly output: JointMotion | undefined;
}

export function nElementsOf(role: "leg" | "link" | "bar"): number {
  return role === "link" ? linkElements : legElements;
}

export function createMechanics(frame: Frame, conditions: Conditions): Mechanics {
  const joints = frame.points.map(({ x, y, fixed }, index) => ({
    x,
    y,
    fixed,
    ...(frame.output?.point === index && frame.output.loadStiffness > 0 && { springY: frame.output.loadStiffness }),
  }));
  const members = frame.beams.map((beam) => {
    const { angle } = geometryOf(frame, beam);
    const material = conditions.materialAlong(angle);
    return {
      from: beam.from,
      to: beam.to,
      width: beam.width,
      thickness: conditions.thickness,
      youngsModulus: material.youngsModulus.at(conditions.ambient),
      nElements: nElementsOf(beam.role),
    };
  });
  const model = new PlanarFrameModel({ joints, members });
  const rest: FrameLoading = {
    strains: frame.beams.map((beam) => new Float64Array(nElementsOf(beam.role)).fill(-conditions.bondStrain)),
    loads: [],
    held: [],
  };
  return {
    model,
    rest,
    restState: model.solve(rest),
    output: frame.output === undefined ? undefined : { joint: frame.output.point, motion: 1 },
  };
}

/** Free strain of every element at the temperatures found, [nBeams][nElements]. */
export function strainsOf(frame: Frame, conditions: Conditions, fields: readonly BranchField[]): Float64Array[] {
  const { ambient, bondStrain } = conditions;
  return frame.beams.map((beam, index) => {
    const { expansion } = conditions.materialAlong(geometryOf(frame, beam).angle);
    const strains = new Float64Array(nElementsOf(beam.role));
    partMeansInto(strains, fields[index]!, { quantity: (T) => expansion.strainBetween(ambient, T) - bondStrain });
    return strains;
  });
}
