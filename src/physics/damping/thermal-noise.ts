/**
 * Noise that comes with damping and with resistance: equipartition and its spectra [gabrielson1993] FROM MEMORY.
 *
 * White below the frequencies where quantum effects matter (kT/h, 6 THz at 300 K). Spectra are one-sided. Main test: thermal-noise.test.ts.
 */

import { requirePositive } from "./gas-film.ts";

/** Boltzmann constant [J/K], exact [codata2018]. */
const boltzmann = 1.380649e-23;

/** Force noise of a damper [N/sqrt(Hz)]: sqrt(4 kB T c), c [N s/m]. */
export function forceNoise(damping: number, T: number): number {
  requirePositive({ damping, temperature: T }, "the thermal noise");
  return Math.sqrt(4 * boltzmann * T * damping);
}

/** A single mode: mass [kg], angular frequency [rad/s], quality factor. */
export interface NoisyMode {
  readonly mass: number;
  readonly angularFrequency: number;
  readonly quality: number;
}

/** Acceleration that the noise of the damper looks like [m/s^2/sqrt(Hz)]: sqrt(4 kB T omega/(m Q)). */
export function accelerationNoise(mode: NoisyMode, T: number): number {
  const { mass, angularFrequency, quality } = mode;
  requirePositive({ mass, "angular frequency": angularFrequency, quality, temperature: T }, "the thermal noise");
  return Math.sqrt((4 * boltzmann * T * angularFrequency) / (mass * quality));
}

/** Root mean square displacement [m] of a mode in thermal equilibrium: sqrt(kB T/(m omega²)), whatever damps it. */
export function thermalDisplacement(mode: { readonly mass: number; readonly angularFrequency: number }, T: number): number {
  const { mass, angularFrequency } = mode;
  requirePositive({ mass, "angular frequency": angularFrequency, temperature: T }, "the thermal noise");
  return Math.sqrt((boltzmann * T) / mass) / angularFrequency;
}

/** Root mean square motion [m] of a point in thermal equilibrium: sqrt(kB T/k), k its static stiffness [N/m], over all modes. */
export function thermalMotion(stiffness: number, T: number): number {
  requirePositive({ stiffness, temperature: T }, "the thermal motion");
  return Math.sqrt((boltzmann * T) / stiffness);
}

/** Voltage noise of a resistor [V/sqrt(Hz)]: sqrt(4 kB T R). */
export function resistorNoise(resistance: number, T: number): number {
  requirePositive({ resistance, temperature: T }, "the thermal noise");
  return Math.sqrt(4 * boltzmann * T * resistance);
}

/** Root mean square voltage [V] on a capacitor behind any resistor: sqrt(kB T/C). */
export function capacitorNoise(capacitance: number, T: number): number {
  requirePositive({ capacitance, temperature: T }, "the thermal noise");
  return Math.sqrt((boltzmann * T) / capacitance);
}
