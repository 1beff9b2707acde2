/**
 * Charges on rectangular bodies above the plane at given potentials: the boundary elements behind shape factors and couplings.
 *
 * Uniform charge on graded straight panels, the plane by mirror images, the potential asked at panel middles. The equations are left as
 * they come: made symmetric by averaging they solve faster but fail, some of them silently, where panels much longer than a gap face
 * short ones. An arrangement symmetric about an upright axis is solved on its right half, even and odd parts apart.
 * Error of the total charge: about 0.1 % at 8 panels a side, falling with the third power of their number. Main test: shape-factors.test.ts.
 */

import { solveByBlocks } from "./body-blocks.ts";
import type { CrossSection } from "./cross-section.ts";
import { logIntegral, makePanels, type PanelSet, rightHalf } from "./panels.ts";

/** Axis of mirror symmetry [m] and for each body its partner. */
interface MirrorAxis {
  readonly x: number;
  readonly partner: Int32Array;
}

export interface BodyCharges {
  /** Charge of every body over the permittivity, [nSets][nBodies]. */
  readonly charges: readonly Float64Array[];
  /**
   * [nSets × nSets, row-major] integral of the product of two sets' fields over all surfaces, the plane too [1/m]. What the plane has
   * follows from the balance of vertical forces: as much as the undersides of the bodies less their tops.
   */
  readonly overlaps: Float64Array;
}

/** For each set of potentials; `potentials`: [nSets][nBodies], the plane is at zero. */
export function bodyCharges(
  rectangles: readonly CrossSection[],
  options: { readonly panelsPerSide: number; readonly potentials: readonly Float64Array[] },
): BodyCharges {
  const { panelsPerSide, potentials } = options;
  const axis = mirrorAxis(rectangles);
  const unit = Math.max(...rectangles.map(({ width, height, gap }) => Math.max(width, height, gap)));
  const panels = makePanels(scaled(rectangles, { unit, origin: axis?.x ?? 0 }), panelsPerSide);
  if (axis === undefined) {
    const densities = solveSets(panels, { potentials, mirror: 0 });
    return { charges: totalsOf(panels, densities, rectangles.length), overlaps: overlapsOf(panels, densities, 1 / unit) };
  }
  const half = rightHalf(panels);
  const part = (sign: 1 | -1): BodyCharges => {
    const sets = potentials.map((set) => mirrorPart(set, axis.partner, sign));
    const densities = solveSets(half, { potentials: sets, mirror: sign });
    const charges = totalsOf(half, densities, rectangles.length);
    for (const charge of charges) completeByMirror(charge, axis.partner, sign);
    return { charges, overlaps: overlapsOf(half, densities, 2 / unit) };
  };
  const even = part(1);
  if (potentials.every((set) => mirrorPart(set, axis.partner, -1).every((value) => value === 0))) return even;
  // over both halves the products of even and odd parts cancel
  const odd = part(-1);
  return {
    charges: even.charges.map((charges, set) => charges.map((charge, body) => charge + odd.charges[set]![body]!)),
    overlaps: even.overlaps.map((value, i) => value + odd.overlaps[i]!),
  };
}

/** Lengths in a unit, the axis of symmetry at x = 0. */
function scaled(rectangles: readonly CrossSection[], { unit, origin }: { unit: number; origin: number }): CrossSection[] {
  return rectangles.map((body) => ({
    ...body,
    x: (body.x - origin) / unit,
    width: body.width / unit,
    height: body.height / unit,
    gap: body.gap / unit,
  }));
}

/** Charge per length of each panel; `mirror` is the sign of the images about x = 0, 0 where there are none. */
function solveSets(
  panels: PanelSet,
  solved: { readonly potentials: readonly Float64Array[]; readonly mirror: -1 | 0 | 1 },
): Float64Array[] {
  const { n, owner } = panels;
  const matrix = new Float64Array(n * n);
  addPotentialsInto(matrix, panels, solved.mirror);
  const rights = solved.potentials.map((potential) => Float64Array.from(owner, (body) => potential[body]!));
  return solveByBlocks({ matrix, n, owner }, rights);
}

function totalsOf({ n, half, owner }: PanelSet, densities: readonly Float64Array[], nBodies: number): Float64Array[] {
  return densities.map((density) => {
    const totals = new Float64Array(nBodies);
    for (let j = 0; j < n; j++) totals[owner[j]!] = totals[owner[j]!]! + density[j]! * 2 * half[j]!;
    return totals;
  });
}

function overlapsOf({ n, half, plane }: PanelSet, densities: readonly Float64Array[], factor: number): Float64Array {
  const nSets = densities.length;
  const overlaps = new Float64Array(nSets * nSets);
  densities.forEach((a, i) => {
    densities.forEach((b, k) => {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += (1 + plane[j]!) * a[j]! * b[j]! * 2 * half[j]!;
      overlaps[i * nSets + k] = factor * sum;
    });
  });
  return overlaps;
}

/** Beyond this many panel lengths a panel counts as a point with its first correction; relative error then below 1e-4 of that panel. */
const farLengths = 3;

/**
 * Adds to `matrix` [n × n, zeros] the potential at the middle of panel i from unit charge per length on panel j and its images:
 * (1/2 pi) ∫ ln(r_image/r), with r_image measured to the mirror image below the plane.
 */
function addPotentialsInto(matrix: Float64Array, panels: PanelSet, mirror: -1 | 0 | 1): void {
  const { n, x, y } = panels;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const up = y[i]! - y[j]!;
      const down = y[i]! + y[j]!;
      addPairInto(matrix, panels, i, j, x[i]! - x[j]!, up, down, 1);
      if (mirror !== 0) addPairInto(matrix, panels, i, j, x[i]! + x[j]!, up, down, mirror);
    }
  }
}

const scale = 1 / (4 * Math.PI);

/**
 * Adds what panels i and j do to one another, their middles (dx, up) apart and (dx, down) from the image below the plane.
 * Eight arguments in a row: this runs for every pair of panels, and an object for each would cost more than the logarithm.
 */
function addPairInto(
  matrix: Float64Array,
  panels: PanelSet,
  i: number,
  j: number,
  dx: number,
  up: number,
  down: number,
  sign: number,
): void {
  const { n, half, isUpright } = panels;
  const hi = half[i]!;
  const hj = half[j]!;
  const ij = i * n + j;
  const ji = j * n + i;
  const dx2 = dx * dx;
  const near = dx2 + up * up;
  const image = dx2 + down * down;
  const limit = 2 * farLengths * Math.max(hi, hj);
  if (near > limit * limit && image > limit * limit) {
    // Middle rule and its correction L³/24 ∂²/∂t² ln r², twice (h² - t²)/r⁴ with t along the panel; one logarithm serves both.
    const ratio = Math.log(image / near);
    const bend = ((dx2 - down * down) / (image * image) - (dx2 - up * up) / (near * near)) / 3;
    matrix[ij] = matrix[ij]! + sign * scale * 2 * hj * (ratio + (isUpright[j] === 1 ? bend : -bend) * hj * hj);
    if (i !== j) matrix[ji] = matrix[ji]! + sign * scale * 2 * hi * (ratio + (isUpright[i] === 1 ? bend : -bend) * hi * hi);
    return;
  }
  matrix[ij] = matrix[ij]! + sign * scale * potentialOf(hj, isUpright[j]!, dx, up, down);
  // From j the panel i lies the other way round; the image is as far up as it was down, which the logarithm does not tell apart.
  if (i !== j) matrix[ji] = matrix[ji]! + sign * scale * potentialOf(hi, isUpright[i]!, dx, up, down);
}

/** ∫ ln(r_image²/r²) over a panel of half length `half` from a point (dx, up) off its middle, (dx, down) off its image's. */
function potentialOf(half: number, upright: number, dx: number, up: number, down: number): number {
  return upright === 1
    ? logIntegral(down, dx, half) - logIntegral(up, dx, half)
    : logIntegral(dx, down, half) - logIntegral(dx, up, half);
}

function mirrorAxis(rectangles: readonly CrossSection[]): MirrorAxis | undefined {
  if (rectangles.length === 0) return undefined;
  const left = Math.min(...rectangles.map((body) => body.x - body.width / 2));
  const right = Math.max(...rectangles.map((body) => body.x + body.width / 2));
  const x = (left + right) / 2;
  const tolerance = 1e-9 * (right - left);
  const partner = new Int32Array(rectangles.length).fill(-1);
  for (const [i, body] of rectangles.entries()) {
    partner[i] = rectangles.findIndex(
      (other) =>
        Math.abs(other.x + body.x - 2 * x) < tolerance &&
        Math.abs(other.width - body.width) < tolerance &&
        Math.abs(other.height - body.height) < tolerance &&
        Math.abs(other.gap - body.gap) < tolerance,
    );
    if (partner[i] === -1) return undefined;
  }
  return { x, partner };
}

/** The even (sign 1) or odd (sign -1) part of the potentials. */
function mirrorPart(potentials: Float64Array, partner: Int32Array, sign: -1 | 1): Float64Array {
  return potentials.map((value, body) => (value + sign * potentials[partner[body]!]!) / 2);
}

/** Only the right half was solved: a body on the axis has twice what was found or nothing, one on the left what its partner has. */
function completeByMirror(charges: Float64Array, partner: Int32Array, sign: -1 | 1): void {
  for (let i = 0; i < charges.length; i++) {
    const other = partner[i]!;
    if (other === i) charges[i] = sign === 1 ? 2 * charges[i]! : 0;
    else if (other > i) {
      const [first, second] = [charges[i]!, charges[other]!];
      charges[i] = first + sign * second;
      charges[other] = second + sign * first;
    }
  }
}
