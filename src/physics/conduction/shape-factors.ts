/**
 * Conduction through unbounded gas between hot rectangular cross-sections, the cold plane below and cold bodies beside.
 *
 * Two-dimensional, constant conductivity: exactly the capacitance per length of the same conductors, found by boundary elements
 * (body-charges.ts). With the plane as reference there is no charge at infinity to balance.
 * Validity: parts long against their distance to cold bodies; a temperature jump at the surfaces to first order (`stepLoss`). Error at the default 8 panels a side: 0.1 % where gaps and distances are a fifth of the height or more, 0.4 % at a fortieth,
 * falling with the third power of their number. Main tests: the table of single and neighbouring legs, shape-factors.test.ts, and finite differences,
 * test/judges/potential-2d.
 */

import { bodyCharges } from "./body-charges.ts";
import { type CrossSection, requireCrossSections } from "./cross-section.ts";

export type { CrossSection } from "./cross-section.ts";

/** Panels on each side of a rectangle where nothing else is asked. */
const defaultPanelsPerSide = 8;

export interface ShapeFactorOptions {
  readonly rectangles: readonly CrossSection[];
  /** Even number of panels on each side; 8 gives about 0.1 %, 24 about 0.01 %. */
  readonly panelsPerSide?: number;
}

/**
 * Heat per length of each hot body over (conductivity × temperature difference), in the order of the hot rectangles.
 */
export function crossSectionShapeFactors(options: ShapeFactorOptions): Float64Array {
  const { rectangles, panelsPerSide } = requireProblem(options);
  if (rectangles.length === 0) return new Float64Array(0);
  const potentials = [Float64Array.from(rectangles, ({ potential }) => (potential === "hot" ? 1 : 0))];
  const charges = bodyCharges(rectangles, { panelsPerSide, potentials }).charges[0]!;
  return charges.filter((_, i) => rectangles[i]!.potential === "hot");
}

/** Heat between bodies of different temperatures. */
export interface CrossSectionCouplings {
  /** [nHot] heat per length and k from each hot body to all that is cold, over its own excess temperature. */
  readonly toGround: Float64Array;
  /** [nHot × nHot, row-major] heat per length and k between two hot bodies over their difference; symmetric, zero on the diagonal. */
  readonly between: Float64Array;
  /**
   * What a step of temperature at every surface, as of this thickness of gas, takes off both, to first order [1/m]: [nHot] and
   * [nHot × nHot]. By perturbation the integral of the flux times that of the opposite problem.
   */
  readonly stepLoss: { readonly toGround: Float64Array; readonly between: Float64Array };
}

/**
 * All conductances of a section, for hot bodies of different temperatures: heat of body i over (length × k) is
 * toGround[i] T_i + sum over j of between[i, j] (T_i - T_j). At one common temperature it is `crossSectionShapeFactors` = toGround.
 */
export function crossSectionCouplings(options: ShapeFactorOptions): CrossSectionCouplings {
  const { rectangles, panelsPerSide } = requireProblem(options);
  const hot = Array.from(rectangles.keys()).filter((i) => rectangles[i]!.potential === "hot");
  const n = hot.length;
  const toGround = new Float64Array(n);
  const between = new Float64Array(n * n);
  const stepLoss = { toGround: new Float64Array(n), between: new Float64Array(n * n) };
  if (n === 0) return { toGround, between, stepLoss };
  const potentials = hot.map((body) => Float64Array.from(rectangles, (_, i) => (i === body ? 1 : 0)));
  const { charges, overlaps } = bodyCharges(rectangles, { panelsPerSide, potentials });
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const charge = charges[j]![hot[i]!]!;
      toGround[i] = toGround[i]! + charge;
      // Induced charges have the other sign; rounding may leave a trace of the wrong one far away.
      if (i !== j) between[i * n + j] = Math.max(0, -(charge + charges[i]![hot[j]!]!) / 2);
      stepLoss.toGround[i] = stepLoss.toGround[i]! + overlaps[i * n + j]!;
      if (i !== j) stepLoss.between[i * n + j] = Math.max(0, -overlaps[i * n + j]!);
    }
  }
  return { toGround, between, stepLoss };
}

function requireProblem(options: ShapeFactorOptions): Required<ShapeFactorOptions> {
  const { rectangles, panelsPerSide = defaultPanelsPerSide } = options;
  requireCrossSections(rectangles);
  if (!(panelsPerSide >= 2))
    throw new RangeError(`Cannot find the conduction: wanted two or more panels a side, found ${panelsPerSide}`);
  return { rectangles, panelsPerSide };
}
