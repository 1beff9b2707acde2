/** From the unknowns of small motion to the motions of junctions and nodes. Main test: vibration.test.ts. */
import type { Unknowns } from "./vibration-unknowns.ts";

/** Motions of junctions and nodes from those of the unknowns. */
export function expandMotions(
  system: { readonly unknowns: Unknowns },
  x: Float64Array,
): { readonly junctionMotions: Float64Array; readonly beamMotions: Float64Array[] } {
  const { unknowns } = system;
  const junctionMotions = Float64Array.from(unknowns.ofJunction, (u) => (u < 0 ? 0 : x[u]!));
  const beamMotions = unknowns.maps.map((maps) => {
    const motions = new Float64Array(3 * maps.length);
    maps.forEach(({ unknowns: own, columns }, node) => {
      for (let i = 0; i < 3; i++) {
        let sum = 0;
        for (let j = 0; j < 4; j++) {
          const u = own[j]!;
          const part = columns === undefined ? (i === j ? 1 : 0) : columns[4 * i + j]!;
          if (u >= 0 && part !== 0) sum += part * x[u]!;
        }
        motions[3 * node + i] = sum;
      }
    });
    return motions;
  });
  return { junctionMotions, beamMotions };
}
