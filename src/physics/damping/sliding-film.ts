/**
 * Damping of a face that slides along another, and of a face in free gas: waves of shear.
 *
 * c/A = Re[mu q coth(q d)], q = sqrt(i omega rho/mu) [cho1994] FROM MEMORY: exact for infinite faces. For a gap far below the penetration
 * depth it is mu/d; far above, the half space mu/depth. Edges are left out: for a comb or a leg they add about one gap of width each.
 * Validity: amplitude small against the face, no slip (multiply by `slidingSlipFactor` in narrow gaps). Main test: sliding-film.test.ts.
 */

import { requirePositive } from "./gas-film.ts";

/** Gas beside a sliding face: viscosity [Pa s], density [kg/m^3]; angular frequency of the motion [rad/s]. */
export interface ShearedGas {
  readonly viscosity: number;
  readonly density: number;
  readonly angularFrequency: number;
}

/** Depth [m] at which a wave of shear has decayed to 1/e: sqrt(2 mu/(rho omega)). */
export function penetrationDepth(gas: ShearedGas): number {
  const { viscosity, density, angularFrequency } = gas;
  requirePositive({ viscosity, density, "angular frequency": angularFrequency }, "the depth of shear waves");
  return Math.sqrt((2 * viscosity) / (density * angularFrequency));
}

/** Damping per area [N s/m^3] of a face sliding at distance `gap` [m] from a wall at rest. Gas on one side. */
export function slidingFilmDamping(gas: ShearedGas, gap: number): number {
  const depth = penetrationDepth(gas);
  requirePositive({ gap }, "the damping of a sliding face");
  // q d = (1 + i) x: Re[(1 + i) coth((1 + i) x)] = (sinh 2x + sin 2x)/(cosh 2x - cos 2x).
  const x = gap / depth;
  if (x > 20) return gas.viscosity / depth;
  // Below, both differences cancel; the series x^-1 (1 + 4 x⁴/45) is then exact to 1e-13.
  if (x < 0.01) return (gas.viscosity / gap) * (1 + (4 * x ** 4) / 45);
  return (gas.viscosity / depth) * ((Math.sinh(2 * x) + Math.sin(2 * x)) / (Math.cosh(2 * x) - Math.cos(2 * x)));
}

/** Damping per area [N s/m^3] of a face sliding in gas without end: sqrt(mu rho omega/2). */
export function freeFaceDamping(gas: ShearedGas): number {
  return gas.viscosity / penetrationDepth(gas);
}
