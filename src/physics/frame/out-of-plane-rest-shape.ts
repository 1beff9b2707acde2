/** The shape of a frame that nothing strains or loads. */
import type { FrameNetwork, FrameShape } from "./network.ts";

export function restShape(network: FrameNetwork): FrameShape {
  return {
    motions: new Float64Array(3 * network.junctions.length),
    beamMotions: network.beams.map((beam) => new Float64Array(3 * (beam.widths.length + 1))),
    strains: network.beams.map((beam) => new Float64Array(beam.widths.length)),
    moduli: network.beams.map((beam) => new Float64Array(beam.widths.length).fill(beam.youngsModulus)),
    axialForces: network.beams.map((beam) => new Float64Array(beam.widths.length)),
    bodyStrains: new Float64Array(network.junctions.length),
  };
}
