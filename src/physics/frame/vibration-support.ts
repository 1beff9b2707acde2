/** Refuses a frame of which a part is held by nothing, naming the motion. Main test: vibration.test.ts. */
import { factorSkylineInPlace, type SkylineMatrix } from "#numerics";
import { type FreeMotion, FreeMotionError } from "./free-motion-error.ts";
import type { FrameNetwork } from "./network.ts";
import { motionsOfFamily, type Unknowns } from "./vibration-unknowns.ts";

/** Pivots smaller than this against their diagonal are rounding: the motion is held by nothing. */
const floatingPivot = 1e-12;

/** `nNegative` is what the factorisation of the stiffness returned: -1 where a pivot vanished. */
export function requireSupport(
  network: FrameNetwork,
  unknowns: Unknowns,
  about: { readonly stiffness: SkylineMatrix; readonly factored: SkylineMatrix; readonly nNegative: number },
): void {
  const { stiffness, factored, nNegative } = about;
  // A factorisation that broke off tells nothing; that of a slightly stiffer matrix shows where it is weak.
  const pivots = nNegative < 0 ? factorStiffened(stiffness) : factored;
  let weakest = -1;
  let least = nNegative < 0 ? Number.POSITIVE_INFINITY : floatingPivot;
  for (let i = 0; i < stiffness.n; i++) {
    const at = stiffness.start[i + 1]! - 1;
    const diagonal = Math.abs(stiffness.values[at]!);
    const ratio = diagonal === 0 ? 0 : Math.abs(pivots.values[at]!) / diagonal;
    if (ratio < least) {
      least = ratio;
      weakest = i;
    }
  }
  if (weakest < 0) return;
  const found = nameUnknown(network, unknowns, weakest);
  throw new FreeMotionError(
    `Cannot find small motions ${unknowns.family}: wanted every motion held by a support or a spring, found ${found.words} held by nothing`,
    found.free,
  );
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
