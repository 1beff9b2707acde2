/**
 * Least distance with inequalities: the shortest z with G z >= h. It is what a small quadratic programme becomes once its matrix is
 * factored. Solved through non-negative least squares, which ends after finitely many exchanges.
 *
 * Lawson & Hanson, Solving Least Squares Problems (1974), chapter 23, algorithms NNLS and LDP. Dense; for tens of unknowns and rows.
 * Main test: constrained-minimum.test.ts.
 */

/** Least squares over some columns of e [rows × columns, row-major], by Gram-Schmidt twice over; undefined where they depend on one another. */
function solveColumns(e: Float64Array, size: { rows: number; columns: number }, chosen: readonly number[], f: Float64Array) {
  const { rows, columns } = size;
  const n = chosen.length;
  const q = new Float64Array(rows * n);
  const r = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const column = chosen[j]!;
    let before = 0;
    for (let i = 0; i < rows; i++) {
      q[i * n + j] = e[i * columns + column]!;
      before += q[i * n + j]! ** 2;
    }
    for (let pass = 0; pass < 2; pass++) {
      for (let k = 0; k < j; k++) {
        let dot = 0;
        for (let i = 0; i < rows; i++) dot += q[i * n + k]! * q[i * n + j]!;
        r[k * n + j]! += dot;
        for (let i = 0; i < rows; i++) q[i * n + j]! -= dot * q[i * n + k]!;
      }
    }
    let left = 0;
    for (let i = 0; i < rows; i++) left += q[i * n + j]! ** 2;
    if (!(left > 1e-24 * before)) return undefined;
    const norm = Math.sqrt(left);
    r[j * n + j] = norm;
    for (let i = 0; i < rows; i++) q[i * n + j]! /= norm;
  }
  const x = new Float64Array(n);
  for (let j = n - 1; j >= 0; j--) {
    let sum = 0;
    for (let i = 0; i < rows; i++) sum += q[i * n + j]! * f[i]!;
    for (let k = j + 1; k < n; k++) sum -= r[j * n + k]! * x[k]!;
    x[j] = sum / r[j * n + j]!;
  }
  return x;
}

/** The u >= 0 that brings e u nearest to f; e is [rows × columns], row-major. */
export function nonNegativeLeastSquares(e: Float64Array, size: { rows: number; columns: number }, f: Float64Array): Float64Array {
  const { rows, columns } = size;
  const u = new Float64Array(columns);
  let chosen: number[] = [];
  const barred = new Set<number>();
  for (let exchange = 0; exchange < 10 * (columns + 1); exchange++) {
    const residual = f.slice();
    for (let i = 0; i < rows; i++) for (const j of chosen) residual[i]! -= e[i * columns + j]! * u[j]!;
    let entering = -1;
    let steepest = 1e-13;
    for (let j = 0; j < columns; j++) {
      if (barred.has(j) || chosen.includes(j)) continue;
      let slope = 0;
      let norm = 0;
      for (let i = 0; i < rows; i++) {
        slope += e[i * columns + j]! * residual[i]!;
        norm += e[i * columns + j]! ** 2;
      }
      if (norm > 0 && slope / Math.sqrt(norm) > steepest) {
        steepest = slope / Math.sqrt(norm);
        entering = j;
      }
    }
    if (entering < 0) break;
    const trial = [...chosen, entering];
    const first = solveColumns(e, size, trial, f);
    // a column that depends on the others, or would enter with the wrong sign by rounding, stays out for now
    if (first === undefined || !(first.at(-1)! > 0)) {
      barred.add(entering);
      continue;
    }
    barred.clear();
    chosen = trial;
    let wanted = first;
    while (wanted.some((value) => !(value > 0))) {
      let part = 1;
      chosen.forEach((j, k) => {
        if (!(wanted[k]! > 0)) part = Math.min(part, u[j]! / (u[j]! - wanted[k]!));
      });
      chosen.forEach((j, k) => {
        u[j]! += part * (wanted[k]! - u[j]!);
      });
      const kept = chosen.filter((j, k) => wanted[k]! > 0 || u[j]! > 1e-15);
      // at least one leaves, or the exchange would never end
      const leaving = kept.length < chosen.length ? kept : chosen.filter((_, k) => wanted[k]! > 0);
      for (const j of chosen) if (!leaving.includes(j)) u[j] = 0;
      chosen = leaving;
      const next = solveColumns(e, size, chosen, f);
      if (next === undefined) break;
      wanted = next;
    }
    chosen.forEach((j, k) => {
      u[j] = wanted[k]!;
    });
  }
  return u;
}

/**
 * The shortest z [n] with G z >= h, and the multiplier of each row; undefined where no z satisfies all rows.
 * `g` is [m × n], row-major.
 */
export function leastDistance(
  g: Float64Array,
  h: Float64Array,
  n: number,
): { readonly z: Float64Array; readonly multipliers: Float64Array } | undefined {
  const m = h.length;
  const e = new Float64Array((n + 1) * m);
  for (let row = 0; row < m; row++) {
    for (let j = 0; j < n; j++) e[j * m + row] = g[row * n + j]!;
    e[n * m + row] = h[row]!;
  }
  const f = new Float64Array(n + 1);
  f[n] = 1;
  const u = nonNegativeLeastSquares(e, { rows: n + 1, columns: m }, f);
  const r = f.map((value) => -value);
  for (let i = 0; i <= n; i++) for (let row = 0; row < m; row++) r[i]! += e[i * m + row]! * u[row]!;
  if (Math.hypot(...r) < 1e-10) return undefined;
  return { z: r.slice(0, n).map((value) => -value / r[n]!), multipliers: u.map((value) => -value / r[n]!) };
}
