/**
 * Heat from rectangular sources on the top face of a rectangular plate, for example anchors on a glass die: steady resistances, what
 * sources do to one another, and the warm-up after a step of power.
 *
 * Plate with insulated top and sides, one conductivity, base at a fixed temperature or losing heat through a film (air, a package,
 * adhesive). The step response is the time integral of a product of one-dimensional factors (plate-diffusion.ts); its end is the double
 * cosine series of [muzychka2003] (FROM MEMORY), which the tests sum independently. Gauss points on octaves of the spread
 * sqrt(diffusivity × time) give 1e-7 of the answer, at all times at once.
 *
 * Two idealisations of a source bound a real one. "uniform": the same flux everywhere, mean temperature of the source; for thin silicon
 * or a film heater. "isothermal": one temperature over the whole source; for silicon that conducts far better than the plate. On a half
 * space uniform is 8.1 % above isothermal for a disc and 9.1 % for a square; on a thin plate they meet in thickness/(k area).
 * What is left out: heat that the top face loses by itself, and the spread inside the silicon.
 * Main test: spreading.test.ts.
 */

import { isothermalConductances } from "./isothermal-source.ts";
import { createStepResponse, type SpreadingPlate, type SpreadingSource, steadyResistance } from "./spreading-integral.ts";

export type { SpreadingPlate, SpreadingSource } from "./spreading-integral.ts";

/** Mean temperature of a source over its heat [K/W], for the two idealisations. */
export interface SpreadingResistance {
  readonly uniform: number;
  readonly isothermal: number;
}

/** Steady resistance of one source to where the heat of the base goes. */
export function spreadingResistance(plate: SpreadingPlate, source: SpreadingSource): SpreadingResistance {
  requirePlate(plate, [source]);
  return {
    uniform: steadyResistance(plate, { from: source, to: source }),
    isothermal: 1 / isothermalConductances(plate, [source])[0]!,
  };
}

/**
 * Steady resistances [nSources × nSources, row-major, K/W]: mean temperature of source i over the heat of source j, uniform flux.
 * Symmetric. Between sources a few widths apart the idealisation no longer matters.
 */
export function spreadingResistances(plate: SpreadingPlate, sources: readonly SpreadingSource[]): Float64Array {
  requirePlate(plate, sources);
  const n = sources.length;
  const matrix = new Float64Array(n * n);
  for (const [i, to] of sources.entries()) {
    for (const [j, from] of sources.slice(0, i + 1).entries()) {
      const value = steadyResistance(plate, { from, to });
      matrix[i * n + j] = value;
      matrix[j * n + i] = value;
    }
  }
  return matrix;
}

/**
 * Heat of each isothermal source per temperature of each while the others are cold, [nSources × nSources, row-major, W/K]: symmetric,
 * below zero between two.
 */
export function spreadingConductances(plate: SpreadingPlate, sources: readonly SpreadingSource[]): Float64Array {
  requirePlate(plate, sources);
  return isothermalConductances(plate, sources);
}

/**
 * Step response Z(t) [K/W] at `times` [s]: mean temperature of source `to` (the source itself where not given) after one watt, uniform
 * flux, has been switched on in `source`. Early it is 2 sqrt(t/(pi k rho c))/area, that of a half space.
 */
export function spreadingStep(
  plate: SpreadingPlate,
  step: { readonly source: SpreadingSource; readonly to?: SpreadingSource; readonly times: ArrayLike<number> },
): Float64Array {
  const { source, to = source, times } = step;
  requirePlate(plate, [source, to]);
  if (!(plate.volumetricHeatCapacity > 0)) {
    throw new RangeError(
      `Cannot tell the warm-up: wanted a heat capacity above zero, found ${plate.volumetricHeatCapacity} J/(m^3 K)`,
    );
  }
  const response = createStepResponse(plate, { from: source, to });
  return Float64Array.from(times, (time) => {
    if (!(time >= 0)) throw new RangeError(`Cannot tell the warm-up: wanted a time of zero or later, found ${time} s`);
    return response(Math.sqrt((plate.conductivity / plate.volumetricHeatCapacity) * time));
  });
}

function requirePlate(plate: SpreadingPlate, sources: readonly SpreadingSource[]): void {
  const { length, width, thickness, conductivity, baseFilm } = plate;
  for (const [name, value, unit] of [
    ["length", length, "m"],
    ["width", width, "m"],
    ["thickness", thickness, "m"],
    ["conductivity", conductivity, "W/(m K)"],
  ] as const) {
    if (!(value > 0 && value < Number.POSITIVE_INFINITY))
      throw new RangeError(`Cannot spread heat in the plate: wanted a finite ${name} above zero, found ${value} ${unit}`);
  }
  if (!(baseFilm > 0))
    throw new RangeError(`Cannot spread heat in the plate: wanted a base that takes heat, found a film of ${baseFilm} W/(m^2 K)`);
  for (const [i, source] of sources.entries()) {
    const fits =
      source.length > 0 &&
      source.width > 0 &&
      isWithin(source.x, { size: source.length, limit: length }) &&
      isWithin(source.y, { size: source.width, limit: width });
    if (!fits) {
      throw new RangeError(
        `Cannot spread heat in the plate: wanted source ${i} on the plate of ${length} m × ${width} m, ` +
          `found ${source.length} m × ${source.width} m about (${source.x} m, ${source.y} m)`,
      );
    }
  }
}

function isWithin(middle: number, { size, limit }: { size: number; limit: number }): boolean {
  // A source that ends on the edge may miss it by rounding.
  const slack = 1e-12 * limit;
  return middle - size / 2 >= -slack && middle + size / 2 <= limit + slack;
}
