/**
 * Gauss-Legendre and Gauss-Lobatto-Legendre rules on [-1, 1] and polynomial interpolation through the Lobatto points.
 *
 * Gauss-Legendre with n points integrates degree 2n - 1 exactly, Lobatto with degree p (p + 1 points) degree 2p - 1.
 * Nodes and weights are right to a few rounding units. Source: Canuto et al., Spectral Methods: Fundamentals, section 2.3
 * (key canuto2006, from memory). Main test: gauss-rules.test.ts.
 */

export interface QuadratureRule {
  /** Nodes in ascending order on [-1, 1]. */
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

/** Legendre polynomial of degree n and its derivative at x inside (-1, 1). */
function legendre(n: number, x: number): { readonly value: number; readonly slope: number; readonly previous: number } {
  let previous = 1;
  let value = x;
  for (let k = 2; k <= n; k++) {
    const next = ((2 * k - 1) * x * value - (k - 1) * previous) / k;
    previous = value;
    value = next;
  }
  return { value, slope: (n * (previous - x * value)) / (1 - x * x), previous };
}

const newtonSteps = 60;

/** Gauss-Legendre rule with n points. */
export function gaussLegendreRule(n: number): QuadratureRule {
  if (!Number.isInteger(n) || n < 1)
    throw new RangeError(`Cannot make a Gauss rule: wanted a whole number of points >= 1, found ${n}`);
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  if (n === 1) {
    weights[0] = 2;
    return { nodes, weights };
  }
  for (let i = 0; i < n; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    for (let step = 0; step < newtonSteps; step++) {
      const p = legendre(n, x);
      const change = p.value / p.slope;
      x -= change;
      if (Math.abs(change) < 1e-16) break;
    }
    const { slope } = legendre(n, x);
    nodes[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}

/** Gauss-Lobatto-Legendre rule of polynomial degree p: p + 1 points, both ends among them. */
export function gaussLobattoRule(p: number): QuadratureRule {
  if (!Number.isInteger(p) || p < 1) throw new RangeError(`Cannot make a Lobatto rule: wanted a whole degree >= 1, found ${p}`);
  const nodes = new Float64Array(p + 1);
  const weights = new Float64Array(p + 1);
  nodes[0] = -1;
  nodes[p] = 1;
  weights[0] = weights[p] = 2 / (p * (p + 1));
  for (let i = 1; i < p; i++) {
    let x = -Math.cos((Math.PI * i) / p);
    for (let step = 0; step < newtonSteps; step++) {
      // Root of P_p'; its derivative follows from Legendre's equation (1 - x^2) P'' = 2 x P' - p (p + 1) P.
      const q = legendre(p, x);
      const curvature = (2 * x * q.slope - p * (p + 1) * q.value) / (1 - x * x);
      const change = q.slope / curvature;
      x -= change;
      if (Math.abs(change) < 1e-16) break;
    }
    const { value } = legendre(p, x);
    nodes[i] = x;
    weights[i] = 2 / (p * (p + 1) * value * value);
  }
  return { nodes, weights };
}

/** Barycentric weights of Lagrange interpolation through any distinct nodes (Berrut & Trefethen 2004, key berrut2004, from memory). */
export function barycentricWeights(nodes: Float64Array): Float64Array {
  return Float64Array.from(nodes, (x, i) => {
    let product = 1;
    for (let j = 0; j < nodes.length; j++) if (j !== i) product *= x - nodes[j]!;
    return 1 / product;
  });
}

/** Values of all Lagrange polynomials of `nodes` at x, so that the interpolant is their weighted sum. Written to `values` [nNodes]. */
export function lagrangeValuesInto(
  values: Float64Array,
  x: number,
  options: { readonly nodes: Float64Array; readonly barycentric: Float64Array },
): void {
  const { nodes, barycentric } = options;
  let sum = 0;
  for (let i = 0; i < nodes.length; i++) {
    const distance = x - nodes[i]!;
    if (distance === 0) {
      values.fill(0);
      values[i] = 1;
      return;
    }
    const part = barycentric[i]! / distance;
    values[i] = part;
    sum += part;
  }
  for (let i = 0; i < nodes.length; i++) values[i] = values[i]! / sum;
}

/** Differentiation matrix [n x n] row-major: derivative at node i of the interpolant with nodal values f_j is sum_j D[i, j] f_j. */
export function differentiationMatrix(nodes: Float64Array): Float64Array {
  const n = nodes.length;
  const weights = barycentricWeights(nodes);
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    let diagonal = 0;
    for (let j = 0; j < n; j++) {
      if (j === i) continue;
      const entry = weights[j]! / weights[i]! / (nodes[i]! - nodes[j]!);
      matrix[i * n + j] = entry;
      diagonal -= entry;
    }
    matrix[i * n + i] = diagonal;
  }
  return matrix;
}
