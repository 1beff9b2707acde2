/**
 * Conduction through unbounded gas from hot rectangular cross-sections to the cold plane below and to cold bodies beside.
 *
 * Two-dimensional, constant conductivity, one hot temperature: exactly the capacitance per length of the same conductors.
 * Boundary elements: uniform charge on graded straight panels, the plane by mirror images, the potential asked at panel middles.
 * With the plane as reference there is no charge at infinity to balance. Validity: parts long against their distance to cold bodies;
 * gas with a temperature jump is included by widening the gap by the jump distances. Error: about 0.2 % at the default 8 panels a
 * side, falling with the square of their number. Main test: the published table of single and neighbouring legs, shape-factors.test.ts.
 */

import { factorInPlace, solveInto } from "#numerics";
import { type CrossSection, requireCrossSections } from "./cross-section.ts";
import { logIntegral, makePanels, type PanelSet, rightHalf } from "./panels.ts";

export type { CrossSection } from "./cross-section.ts";

/** Panels on each side of a rectangle where nothing else is asked. */
const defaultPanelsPerSide = 8;

export interface ShapeFactorOptions {
  readonly rectangles: readonly CrossSection[];
  /** Even number of panels on each side; 8 gives about 0.2 %, 40 about 0.01 %. */
  readonly panelsPerSide?: number;
}

/**
 * Heat per length of each hot body over (conductivity × temperature difference), in the order of the hot rectangles.
 */
export function crossSectionShapeFactors(options: ShapeFactorOptions): Float64Array {
  const { rectangles, panelsPerSide = defaultPanelsPerSide } = options;
  requireCrossSections(rectangles);
  if (!(panelsPerSide >= 2))
    throw new RangeError(`Cannot find the conduction: wanted two or more panels a side, found ${panelsPerSide}`);
  const axis = mirrorAxis(rectangles);
  // Lengths in units of the largest size, the axis of symmetry at x = 0.
  const unit = Math.max(...rectangles.map(({ width, height, gap }) => Math.max(width, height, gap)));
  const scaled = rectangles.map((body) => ({
    ...body,
    x: (body.x - (axis?.x ?? 0)) / unit,
    width: body.width / unit,
    height: body.height / unit,
    gap: body.gap / unit,
  }));
  const all = makePanels(scaled, panelsPerSide);
  const charges = chargesOfBodies(
    scaled,
    axis === undefined ? { panels: all, isMirrored: false } : { panels: rightHalf(all), isMirrored: true },
  );
  if (axis !== undefined) completeByMirror(charges, axis.partner);
  return Float64Array.from(charges.filter((_, i) => rectangles[i]!.potential === "hot"));
}

/** Total charge on each body; with `isMirrored` the panels stand for themselves and their images about x = 0. */
function chargesOfBodies(rectangles: readonly CrossSection[], solved: { panels: PanelSet; isMirrored: boolean }): Float64Array {
  const { panels, isMirrored } = solved;
  const { n, half, owner } = panels;
  const matrix = new Float64Array(n * n);
  fillPotentials(matrix, panels, isMirrored);
  const charge = Float64Array.from(owner, (body) => (rectangles[body]!.potential === "hot" ? 1 : 0));
  const pivots = new Int32Array(n);
  factorInPlace(matrix, n, pivots);
  solveInto(charge, matrix, n, pivots);
  const totals = new Float64Array(rectangles.length);
  for (let j = 0; j < n; j++) totals[owner[j]!] = totals[owner[j]!]! + charge[j]! * 2 * half[j]!;
  return totals;
}

/** Beyond this many panel lengths the panel counts as a point with its first correction; relative error then below 1e-4 of that panel. */
const farLengths = 3;

/**
 * Fills `matrix` [n × n] with the potential at the middle of panel i from unit charge per length on panel j and its images:
 * (1/2 pi) ∫ ln(r_image / r), with r_image measured to the mirror image below the plane.
 */
function fillPotentials(matrix: Float64Array, panels: PanelSet, isMirrored: boolean): void {
  const { n, x, y, half, isUpright } = panels;
  for (let j = 0; j < n; j++) {
    const [xj, yj, hj, upright] = [x[j]!, y[j]!, half[j]!, isUpright[j]! === 1];
    for (let i = 0; i < n; i++) {
      const up = y[i]! - yj;
      const down = y[i]! + yj;
      let sum = pairIntegral(x[i]! - xj, up, down, hj, upright);
      if (isMirrored) sum += pairIntegral(x[i]! + xj, up, down, hj, upright);
      matrix[i * n + j] = sum;
    }
  }
}

const scale = 1 / (4 * Math.PI);

/** (1/2 pi) ∫ ln(r_image/r) over one panel and its image below the plane, from a point at (dx, up) and (dx, down) of their middles. */
function pairIntegral(dx: number, up: number, down: number, half: number, upright: boolean): number {
  const dx2 = dx * dx;
  const near = dx2 + up * up;
  const image = dx2 + down * down;
  const length = 2 * half;
  const far = farLengths * length * farLengths * length;
  if (near > far && image > far) {
    // Middle rule and its correction L³/24 ∂²/∂t² ln r², twice (h² - t²)/r⁴ with t along the panel.
    const sign = upright ? 1 : -1;
    const bend = (dx2 - down * down) / (image * image) - (dx2 - up * up) / (near * near);
    return scale * length * (Math.log(image / near) + (sign * length * length * bend) / 12);
  }
  return upright
    ? scale * (logIntegral(down, dx, half) - logIntegral(up, dx, half))
    : scale * (logIntegral(dx, down, half) - logIntegral(dx, up, half));
}

/** Axis of mirror symmetry and for each body its partner, or undefined where there is none. */
function mirrorAxis(rectangles: readonly CrossSection[]): { x: number; partner: Int32Array } | undefined {
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
        Math.abs(other.gap - body.gap) < tolerance &&
        other.potential === body.potential,
    );
    if (partner[i] === -1) return undefined;
  }
  return { x, partner };
}

/** Only the right half was solved: a body on the axis has twice what was found, one on the left what its partner has. */
function completeByMirror(charges: Float64Array, partner: Int32Array): void {
  for (let i = 0; i < charges.length; i++) {
    const other = partner[i]!;
    if (other === i) charges[i] = 2 * charges[i]!;
    else if (other > i) {
      const found = charges[i]! + charges[other]!;
      charges[i] = found;
      charges[other] = found;
    }
  }
}
