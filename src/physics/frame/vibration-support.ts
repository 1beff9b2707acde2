/** Refuses a frame of which a part is held by nothing, naming the motion. Main test: vibration.test.ts. */
import { factorSkylineInPlace, type SkylineMatrix } from "#numerics";
import { type FreeMotion, FreeMotionError } from "./free-motion-error.ts";
import type { FrameNetwork } from "./network.ts";
import { energyOfMotion } from "./vibration-energy.ts";
import type { SmallMotionSystem } from "./vibration-matrices.ts";
import { motionsOfFamily, type Unknowns } from "./vibration-unknowns.ts";

/** Pivot against diagonal below which the motion is looked at. */
const suspicious = 1e-9;
/** Strain energy of a motion against that of its parts taken alone, below which nothing resists it: rounding leaves less than 1e-20. */
const free = 1e-17;

/** `nNegative` is what the factorisation of the stiffness returned: -1 where a pivot vanished. */
export function requireSupport(network: FrameNetwork, unknowns: Unknowns, system: SmallMotionSystem): void {
  const { stiffness, factored, nNegative } = system;
  // A factorisation that broke off tells nothing; that of a slightly stiffer matrix shows where it is weak.
  const pivots = nNegative < 0 ? factorStiffened(stiffness) : factored;
  let weakest = -1;
  let least = nNegative < 0 ? Number.POSITIVE_INFINITY : suspicious;
  for (let i = 0; i < stiffness.n; i++) {
    const at = stiffness.start[i + 1]! - 1;
    const diagonal = Math.abs(stiffness.values[at]!);
    const ratio = diagonal === 0 ? 0 : Math.abs(pivots.values[at]!) / diagonal;
    if (ratio < least) {
      least = ratio;
      weakest = i;
    }
  }
  if (weakest < 0 || (nNegative >= 0 && isResisted(system, weakest))) return;
  const found = nameUnknown(network, unknowns, weakest);
  throw new FreeMotionError(
    `Cannot find small motions ${unknowns.family}: wanted every motion held by a support or a spring, found ${found.words} held by nothing`,
    found.free,
  );
}

/** True where the motion that belongs to a pivot strains anything: found from the elements' own strains, so that rounding enters squared. */
function isResisted(system: SmallMotionSystem, pivot: number): boolean {
  const { stiffness, factored } = system;
  const x = new Float64Array(stiffness.n);
  x[pivot] = 1;
  for (let i = pivot; i >= 0; i--) {
    const at = factored.start[i]! - factored.firstColumn[i]!;
    for (let k = factored.firstColumn[i]!; k < i; k++) x[k] = x[k]! - factored.values[at + k]! * x[i]!;
  }
  const alone = x.reduce((sum, value, i) => sum + Math.abs(stiffness.values[stiffness.start[i + 1]! - 1]!) * value * value, 0);
  return Math.abs(energyOfMotion(system, x)) > free * alone;
}

function factorStiffened(stiffness: SkylineMatrix): SkylineMatrix {
  const matrix = { ...stiffness, values: Float64Array.from(stiffness.values) };
  for (let i = 0; i < matrix.n; i++) {
    const at = matrix.start[i + 1]! - 1;
    matrix.values[at] = matrix.values[at] === 0 ? 1 : matrix.values[at]! * (1 + 1e-9);
  }
  factorSkylineInPlace(matrix);
  return matrix;
}

function nameUnknown(
  network: FrameNetwork,
  unknowns: Unknowns,
  unknown: number,
): { readonly words: string; readonly free: FreeMotion | undefined } {
  const at = unknowns.ofJunction.indexOf(unknown);
  const motion = motionsOfFamily[unknowns.family][at % 3];
  const junction = network.junctions[Math.floor(at / 3)];
  if (at >= 0 && motion !== undefined && junction !== undefined)
    return { words: `"${motion}" of junction "${junction.name}"`, free: { junction: junction.name, motion } };
  const b = unknowns.maps.findIndex((maps) => maps.some((map) => map.unknowns.includes(unknown)));
  return { words: `a motion of beam "${network.beams[b]!.name}"`, free: undefined };
}
