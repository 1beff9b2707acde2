/** The size of one element of a beam as its equations read it. Main test: tapered-section.test.ts. */
import type { ElementShape } from "./beam-element.ts";
import type { FrameBeam } from "./network.ts";
import { bendingIntegrals, type EndWidths, meanAlongTaper } from "./tapered-section.ts";

/** Shear correction factor of the rectangle: Timoshenko's classical 5/6 (Reissner's value for a rectangle; common practice, no source). */
export const shearFactor = 5 / 6;

/** Widths of an element at its start and end, [m]. */
export function endWidths({ widths, tapers }: Pick<FrameBeam, "widths" | "tapers">, element: number): EndWidths {
  const half = (tapers?.[element] ?? 0) / 2;
  return [widths[element]! - half, widths[element]! + half];
}

export function elementShape(beam: FrameBeam, element: number): ElementShape {
  const { nodes, widths, thickness, shearModulus, axialShare = 1 } = beam;
  const dx = nodes[2 * element + 2]! - nodes[2 * element]!;
  const dy = nodes[2 * element + 3]! - nodes[2 * element + 1]!;
  const width = widths[element]!;
  const length = Math.sqrt(dx * dx + dy * dy);
  const meanArea = width * thickness;
  const base = {
    dx,
    dy,
    length,
    secondMoment: (meanArea * width * width) / 12,
    effectiveShearModulus: shearModulus === undefined ? undefined : shearFactor * shearModulus,
    axialShare,
  };
  if ((beam.tapers?.[element] ?? 0) === 0) return { ...base, area: meanArea };
  const ends = endWidths(beam, element);
  return {
    ...base,
    area: thickness / meanAlongTaper(ends, (w) => 1 / w),
    bending: bendingIntegrals(ends, (w) => 12 / (thickness * w ** 3)),
  };
}
