/**
 * Closed forms for the conduction from a rectangular line to the plane below: for comparison and for plates. The boundary elements
 * of shape-factors.ts are the reference; these carry the errors stated with each. Main test: closed-forms.test.ts.
 */

import { type CrossSection, crossSectionShapeFactors } from "./shape-factors.ts";

/** Sizes of a single line above a plane [m]. */
export interface LineSection {
  readonly width: number;
  readonly height: number;
  readonly gap: number;
}

/**
 * Fit of [meijs1984], FROM MEMORY: w/g + 0.77 + 1.06 (w/g)^0.25 + 1.06 (t/g)^0.5. Within 3.1 % of the boundary elements for
 * 0.8 <= w/g <= 10 and t/g <= 8.
 */
export function meijsFokkemaShapeFactor(line: LineSection): number {
  const { width, height, gap } = line;
  const ratio = width / gap;
  return ratio + 0.77 + 1.06 * ratio ** 0.25 + 1.06 * Math.sqrt(height / gap);
}

/**
 * Form of [lin1996], FROM MEMORY, as heat per length: (w/g) [(t/w)(2 g/t + 1) + 1] = (w + t)/g + 2. Made for thin films, where it is
 * within 7 %. On legs much taller than wide it is 40-90 % too high: given for the comparison with published models only.
 */
export function thinFilmShapeFactor(line: LineSection): number {
  const { width, height, gap } = line;
  return (width / gap) * ((height / width) * ((2 * gap) / height + 1) + 1);
}

/**
 * What one long edge of a plate adds to width/gap, per length of edge. With `coldWallAt` [m] anchored silicon of the same height stands
 * beside both edges at that distance; otherwise the edge is free. It holds the share of the top face, so it grows slowly with the
 * plate's width: by about (1/pi) ln of the ratio. From boundary elements on the plate's own section: error about 0.01.
 */
export function plateEdgeFactor(plate: LineSection & { readonly coldWallAt?: number }): number {
  const { width, height, gap, coldWallAt } = plate;
  const rectangles: CrossSection[] = [{ x: 0, width, height, gap, potential: "hot" }];
  if (coldWallAt !== undefined) {
    // Field silicon reaches further than the plate is wide: what leaves the top face lands on it.
    const wallWidth = 2.5 * height + width;
    const x = width / 2 + coldWallAt + wallWidth / 2;
    for (const side of [-1, 1]) rectangles.push({ x: side * x, width: wallWidth, height, gap, potential: "cold" });
  }
  // The difference of two large numbers: 24 panels a side keep it good where the plate is wide.
  const total = crossSectionShapeFactors({ rectangles, panelsPerSide: 24 })[0]!;
  return (total - width / gap) / 2;
}

/**
 * Heat from a rectangular plate over (conductivity × temperature difference), [m]: fill factor × width × length / gap + the sum of edge
 * factor × edge length. The fill factor is `slitGridFactor` where the plate has slits, 1 where it has none. `edgeFactors` belong to the two edges along the length, then to the two along the width; 0 where hot parts join.
 * The corners, shorter than the gap plus the height, are left out: an error of a few gaps' worth of edge.
 */
export function plateConduction(plate: {
  readonly width: number;
  readonly length: number;
  readonly gap: number;
  readonly edgeFactors: readonly [number, number, number, number];
  readonly fillFactor: number;
}): number {
  const { width, length, gap, edgeFactors, fillFactor } = plate;
  const [first, second, third, fourth] = edgeFactors;
  return (fillFactor * width * length) / gap + (first + second) * length + (third + fourth) * width;
}
