/**
 * How well a polynomial element holds a temperature field: the size of its last two Legendre coefficients against the whole rise.
 *
 * A smooth field has coefficients that fall geometrically, so the last ones bound what is left out (Canuto et al., Spectral Methods in
 * Fluid Dynamics (1988), chapter 2, from memory). A heat balance alone does not see this: with a constant resistivity it closes on any mesh.
 */
import type { BranchState } from "./branch-state.ts";
import { degree, lobattoNodes, lobattoWeights, nNodes } from "./reference-element.ts";

/** Legendre polynomials of the last two degrees at the Lobatto nodes, times weight and norm: rows of the transform, [2 × nNodes]. */
const lastRows: Float64Array = (() => {
  const rows = new Float64Array(2 * nNodes);
  for (let i = 0; i < nNodes; i++) {
    const x = lobattoNodes[i]!;
    let before = 1;
    let now = x;
    for (let k = 1; k < degree; k++) {
      if (k === degree - 1) rows[i] = lobattoWeights[i]! * (degree - 0.5) * now;
      [before, now] = [now, ((2 * k + 1) * x * now - k * before) / (k + 1)];
    }
    // Lobatto quadrature gives the norm of the highest degree as 2/p instead of 2/(2p + 1)
    rows[nNodes + i] = (lobattoWeights[i]! * degree * now) / 2;
  }
  return rows;
})();

/** Largest tail of all elements of a branch over the branch's own span of temperature; 0 for an even field. */
export function spectralTail(state: BranchState): number {
  const { temperatures, nElements } = state;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const T of temperatures) {
    low = Math.min(low, T);
    high = Math.max(high, T);
  }
  // below a microkelvin only rounding is left
  if (!(high - low > 1e-6)) return 0;
  let largest = 0;
  for (let e = 0; e < nElements; e++) {
    let beforeLast = 0;
    let last = 0;
    for (let i = 0; i < nNodes; i++) {
      const T = temperatures[e * degree + i]! - low;
      beforeLast += lastRows[i]! * T;
      last += lastRows[nNodes + i]! * T;
    }
    largest = Math.max(largest, Math.abs(beforeLast) + Math.abs(last));
  }
  return largest / (high - low);
}
