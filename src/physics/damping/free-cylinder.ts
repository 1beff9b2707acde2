/**
 * A long cylinder vibrating sideways in gas far from walls, exact for small amplitude [stokes1851] FROM MEMORY; also a fair picture of a
 * beam of that width: thin strips differ by 5-10 % [sader1998] FROM MEMORY.
 *
 * Force per length = pi a² rho omega² G W, G = 1 + 4 K1(z)/(z K0(z)), z = a sqrt(i omega rho/mu): damping -pi a² rho omega Im G, added mass
 * pi a² rho Re G. Validity: amplitude small against the radius, wavelength of sound long against it, mean free path below a tenth of
 * the radius (refused beyond): slip lets the drag fall by about one mean free path over the radius, which is left out. Legs nearer than a penetration depth to a wall lose more: use the film laws there.
 * Main test: free-cylinder.test.ts, both limits.
 */

import { requirePositive } from "./gas-film.ts";
import type { ShearedGas } from "./sliding-film.ts";

/** Per length of the cylinder. */
export interface CylinderDrag {
  /** [N s/m^2] */
  readonly damping: number;
  /** Mass of gas that moves along [kg/m]. */
  readonly addedMass: number;
}

const largestKnudsenNumber = 0.1;

export function cylinderDrag(
  gas: ShearedGas,
  cylinder: { readonly radius: number; readonly meanFreePath: number },
): CylinderDrag {
  const { viscosity, density, angularFrequency } = gas;
  const { radius, meanFreePath } = cylinder;
  requirePositive({ viscosity, density, "angular frequency": angularFrequency, radius }, "the drag of a cylinder");
  if (!(meanFreePath >= 0 && meanFreePath <= largestKnudsenNumber * radius)) {
    throw new RangeError(
      `Cannot tell the drag of a cylinder: wanted a mean free path of at most ${largestKnudsenNumber * radius} m, a tenth of its ` +
        `radius, found ${meanFreePath} m`,
    );
  }
  const size = radius * Math.sqrt((angularFrequency * density) / viscosity);
  const { re, im } = besselRatio(size);
  // 4/z = 4 exp(-i pi/4)/size.
  const scale = (4 * Math.SQRT1_2) / size;
  const mass = Math.PI * radius ** 2 * density;
  return { damping: -mass * angularFrequency * scale * (im - re), addedMass: mass * (1 + scale * (re + im)) };
}

/** Step of the trapezoidal rule: its error exp(-pi²/(2 step)) is 1e-21. */
const step = 0.1;

/**
 * K1(z)/K0(z) at z = size exp(i pi/4), both from ∫ exp(-z (cosh t - 1)) cosh(nu t) dt, which the trapezoidal rule sums to rounding.
 * For large size the integrand narrows as size^(-1/2), and the step with it.
 */
function besselRatio(size: number): { readonly re: number; readonly im: number } {
  const part = size * Math.SQRT1_2;
  const width = step / Math.max(1, Math.sqrt(size));
  let [re0, im0, re1, im1] = [0.5, 0, 0.5, 0];
  for (let i = 1; ; i++) {
    const cosh = Math.cosh(i * width);
    const power = part * (cosh - 1);
    const weight = Math.exp(-power);
    re0 += weight * Math.cos(power);
    im0 -= weight * Math.sin(power);
    re1 += weight * cosh * Math.cos(power);
    im1 -= weight * cosh * Math.sin(power);
    // The weight falls faster than any power of cosh grows.
    if (power > 45 && weight * cosh < 1e-18) break;
  }
  const squared = re0 * re0 + im0 * im0;
  return { re: (re1 * re0 + im1 * im0) / squared, im: (im1 * re0 - re1 * im0) / squared };
}
