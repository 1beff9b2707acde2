/**
 * The spectral reference element on [-1, 1] that every branch uses: Gauss-Lobatto-Legendre nodes of one degree, with the
 * tables that assembly, interpolation and the independent energy balance need.
 */
import { barycentricWeights, differentiationMatrix, gaussLegendreRule, gaussLobattoRule, lagrangeValuesInto } from "#numerics";

/** Polynomial degree. Fields of branches up to several decay lengths long are resolved to about 1e-8 by one element. */
export const degree = 10;
export const nNodes = degree + 1;
export const nInterior = degree - 1;

const rule = gaussLobattoRule(degree);
export const lobattoNodes = rule.nodes;
export const lobattoWeights = rule.weights;
export const barycentric = barycentricWeights(rule.nodes);
/** [nNodes x nNodes] row-major: derivative at node q of Lagrange polynomial i. */
export const derivative = differentiationMatrix(rule.nodes);

/**
 * Products w_q D_qi D_qj of the stiffness integral, [pair(i <= j) x nNodes] row-major, pairs in the order i = 0: j = 0..., i = 1: j = 1...
 */
export const stiffnessProducts: Float64Array = (() => {
  const table = new Float64Array(((nNodes * (nNodes + 1)) / 2) * nNodes);
  let at = 0;
  for (let i = 0; i < nNodes; i++) {
    for (let j = i; j < nNodes; j++) {
      for (let q = 0; q < nNodes; q++) {
        table[at++] = lobattoWeights[q]! * derivative[q * nNodes + i]! * derivative[q * nNodes + j]!;
      }
    }
  }
  return table;
})();

/** Gauss-Legendre points for checks that must not share the assembly's quadrature; 2 more than the assembly has. */
export const gaussCheck = gaussLegendreRule(nNodes + 2);

/** [nGauss x nNodes] row-major: Lagrange polynomials at the check points. */
export const gaussInterpolation: Float64Array = (() => {
  const nGauss = gaussCheck.nodes.length;
  const table = new Float64Array(nGauss * nNodes);
  const row = new Float64Array(nNodes);
  for (let g = 0; g < nGauss; g++) {
    lagrangeValuesInto(row, gaussCheck.nodes[g]!, { nodes: lobattoNodes, barycentric });
    table.set(row, g * nNodes);
  }
  return table;
})();
