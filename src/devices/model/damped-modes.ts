/**
 * Quality of the modes of a device by the gas, and the noise that comes with it.
 *
 * Noise of the lowest mode alone, as white as its damper; equipartition for the motion of a point, over all modes (Gabrielson, key
 * gabrielson1993, from memory). Validity: as gas-damping.ts; the device at the temperature of the surroundings.
 * Main test: test/verification/gas-damping.test.ts.
 */
import { accelerationNoise, type FilmForce, type Mode, thermalMotion } from "#physics";
import type { DeviceParts } from "./device-parts.ts";
import { GasDamping, type Refused } from "./gas-damping.ts";
import type { SmallMotions } from "./small-motions.ts";

const noMode: Refused = { reason: "no mode of this number swings: ask for a lower one" };

export class DampedModes {
  private readonly gas: GasDamping;
  private readonly known = new Map<number, { readonly mode: Mode; readonly quality: number } | Refused>();

  constructor(
    private readonly parts: DeviceParts,
    private readonly small: SmallMotions | undefined,
  ) {
    this.gas = new GasDamping(parts);
  }

  /** A mode, counted from the lowest, with its quality. */
  private mode(count: number): { readonly mode: Mode; readonly quality: number } | Refused {
    let known = this.known.get(count);
    if (known === undefined) {
      known = this.findMode(count);
      this.known.set(count, known);
    }
    return known;
  }

  private findMode(count: number): { readonly mode: Mode; readonly quality: number } | Refused {
    // of this very point also where it was estimated from another: damping follows the shape to first order
    const mode = this.small?.hasMass === true ? this.small.modes(count)[count - 1] : undefined;
    if (mode === undefined || !(mode.eigenvalue > 0)) return noMode;
    const damping = this.gas.onMode(mode);
    if (typeof damping !== "number") return damping;
    return { mode, quality: (mode.modalMass * Math.sqrt(mode.eigenvalue)) / damping };
  }

  quality(count: number): number | Refused {
    const found = this.mode(count);
    return "reason" in found ? found : found.quality;
  }

  /** Acceleration that the noise of the lowest mode looks like in a band of this width [Hz], root mean square, [m/s^2]. */
  accelerationNoise(bandwidth: number): number | Refused {
    const found = this.mode(1);
    if ("reason" in found) return found;
    const { effectiveMass, eigenvalue } = found.mode;
    const noisy = { mass: Math.max(...effectiveMass), angularFrequency: Math.sqrt(eigenvalue), quality: found.quality };
    return accelerationNoise(noisy, this.parts.conditions.ambient) * Math.sqrt(bandwidth);
  }

  /** Force of the gas on a plate that moves along an axis at a frequency [Hz]. */
  onPlate(plate: string, at: { readonly frequency: number; readonly axis: "x" | "y" | "z" }): FilmForce | Refused {
    if (at.axis === "z") {
      const found = this.gas.squeezingOf(plate, at.frequency);
      return "reason" in found ? found : found.alongZ;
    }
    const found = this.gas.slidingOf(plate, at.frequency);
    return "reason" in found ? found : { damping: found.damping, stiffness: 0 };
  }
}

/** Root mean square motion of a point by heat, [m], from its stiffness [N/m]: 0 where it is held, NaN where it is unstable. */
export function thermalMotionOf(stiffness: number, T: number): number {
  if (stiffness === Number.POSITIVE_INFINITY) return 0;
  return stiffness > 0 ? thermalMotion(stiffness, T) : Number.NaN;
}
