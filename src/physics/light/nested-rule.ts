/**
 * Gauss-Legendre rules that carry a second, poorer rule on every other of their points, so that an error estimate costs nothing.
 *
 * The poorer rule has (n + 1) / 2 points and integrates degree (n - 1) / 2, by symmetry one more where that is even, so the
 * difference of the two bounds the error of the better one wherever the integrand is smooth. Main test: nested-rule.test.ts.
 */
import { barycentricWeights, gaussLegendreRule, lagrangeValuesInto } from "#numerics";

export interface NestedRule {
  /** On [-1, 1], ascending. */
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
  /** Weights of the poorer rule; 0 at every other node. */
  readonly poorWeights: Float64Array;
}

/** The rule with an odd number of points n >= 3. */
export function nestedRule(n: number): NestedRule {
  if (!(n >= 3 && n % 2 === 1))
    throw new RangeError(`Cannot make a nested rule: wanted an odd number of points >= 3, found ${n}`);
  const { nodes, weights } = gaussLegendreRule(n);
  const kept = nodes.filter((_, i) => i % 2 === 0);
  const barycentric = barycentricWeights(kept);
  const values = new Float64Array(kept.length);
  const poorWeights = new Float64Array(n);
  // The Gauss rule integrates the Lagrange polynomials of the kept nodes exactly: that gives their weights.
  for (let i = 0; i < n; i++) {
    lagrangeValuesInto(values, nodes[i]!, { nodes: kept, barycentric });
    for (let j = 0; j < kept.length; j++) poorWeights[2 * j] = poorWeights[2 * j]! + weights[i]! * values[j]!;
  }
  return { nodes, weights, poorWeights };
}
