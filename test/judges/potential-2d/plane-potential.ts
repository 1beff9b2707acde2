/**
 * Judge of the conduction between rectangles above a plane: Laplace's equation by finite volumes on a graded tensor grid.
 *
 * Written apart from the boundary elements: no images, no charges, no panels. Nodes lie on every edge; heat flows along grid lines through
 * the strip that belongs to each; the heat of a body is the sum over the grid lines that leave it. Far away, at `reach` times the size of
 * the section, the temperature is that of the plane; what that changes falls with the square of the reach. Grid steps shrink linearly
 * towards corners, so that the error falls with the square of the number of steps and two grids give a third, better value.
 */

/** A body: middle, width, height, distance from the plane; hot bodies are at 1, cold ones and the plane at 0. */
export interface JudgeBody {
  readonly x: number;
  readonly width: number;
  readonly height: number;
  readonly gap: number;
  readonly potential: "hot" | "cold";
}

export interface JudgeOptions {
  /** Steps between two neighbouring edges; three times as many from the last edge outwards. */
  readonly nSteps: number;
  /** True where the section is symmetric about x = 0: its right half is solved. */
  readonly isSymmetric: boolean;
  /** Which hot body is at 1, the others being at 0; all of them where left out. */
  readonly only?: number;
}

const reach = 60;

/** Smooth step from one edge to the next: steps shrink linearly towards both. */
function betweenEdges(from: number, to: number, nSteps: number): number[] {
  return Array.from({ length: nSteps }, (_, i) => {
    const u = (i + 1) / nSteps;
    return from + (to - from) * u * u * (3 - 2 * u);
  });
}

/** From the last edge to far away: fine at first, then growing geometrically. */
function outwards(from: number, distance: number, nSteps: number): number[] {
  const growth = 6;
  return Array.from({ length: nSteps }, (_, i) => {
    const u = (i + 1) / nSteps;
    return from + (distance * u * Math.expm1(growth * u)) / Math.expm1(growth);
  });
}

function distinct(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  const size = sorted[sorted.length - 1]! - sorted[0]!;
  return sorted.filter((value, i) => i === 0 || value - sorted[i - 1]! > 1e-9 * size);
}

function gridLines(
  edges: readonly number[],
  { nSteps, far, isOpenBelow }: { nSteps: number; far: number; isOpenBelow: boolean },
): Float64Array {
  const first = edges[0]!;
  const lines = isOpenBelow
    ? outwards(-first, far, 3 * nSteps)
        .map((value) => -value)
        .reverse()
    : [];
  lines.push(first);
  for (let i = 1; i < edges.length; i++) lines.push(...betweenEdges(edges[i - 1]!, edges[i]!, nSteps));
  lines.push(...outwards(edges[edges.length - 1]!, far, 3 * nSteps));
  return Float64Array.from(lines);
}

interface Grid {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** [nX × nY] body that holds the node, -1 in the gas, -2 where the temperature is zero. */
  readonly holder: Int32Array;
}

function makeGrid(bodies: readonly JudgeBody[], options: JudgeOptions): Grid {
  const left = Math.min(...bodies.map((body) => body.x - body.width / 2));
  const right = Math.max(...bodies.map((body) => body.x + body.width / 2));
  const top = Math.max(...bodies.map((body) => body.gap + body.height));
  const far = reach * Math.max(top, (right - left) / 2);
  const sides = bodies.flatMap((body) => [body.x - body.width / 2, body.x + body.width / 2]);
  const xEdges = options.isSymmetric ? distinct([0, ...sides.filter((side) => side > 0)]) : distinct(sides);
  const yEdges = distinct([0, ...bodies.flatMap((body) => [body.gap, body.gap + body.height])]);
  const x = gridLines(xEdges, { nSteps: options.nSteps, far, isOpenBelow: !options.isSymmetric });
  const y = gridLines(yEdges, { nSteps: options.nSteps, far, isOpenBelow: false });
  const holder = new Int32Array(x.length * y.length).fill(-1);
  const slack = 1e-9 * far;
  for (let i = 0; i < x.length; i++) {
    for (let j = 0; j < y.length; j++) {
      const found = bodies.findIndex(
        (body) =>
          Math.abs(x[i]! - body.x) <= body.width / 2 + slack &&
          y[j]! >= body.gap - slack &&
          y[j]! <= body.gap + body.height + slack,
      );
      const isFar = j === 0 || j === y.length - 1 || i === x.length - 1 || (i === 0 && !options.isSymmetric);
      holder[i * y.length + j] = found >= 0 ? found : isFar ? -2 : -1;
    }
  }
  return { x, y, holder };
}

/** Width of the strip that belongs to a line: half way to both neighbours. */
function stripWidths(lines: Float64Array): Float64Array {
  return lines.map((value, i) => {
    const before = i === 0 ? value : lines[i - 1]!;
    const after = i === lines.length - 1 ? value : lines[i + 1]!;
    return (after - before) / 2;
  });
}

/** Calls `visit` for every grid line between two neighbouring nodes with its conductance. */
function eachLink(grid: Grid, visit: (a: number, b: number, conductance: number) => void): void {
  const { x, y } = grid;
  const nY = y.length;
  const [stripX, stripY] = [stripWidths(x), stripWidths(y)];
  for (let i = 0; i < x.length; i++) {
    for (let j = 0; j < nY; j++) {
      const node = i * nY + j;
      if (j + 1 < nY) visit(node, node + 1, stripX[i]! / (y[j + 1]! - y[j]!));
      if (i + 1 < x.length) visit(node, node + nY, stripY[j]! / (x[i + 1]! - x[i]!));
    }
  }
}

/** Heat of every body over (conductivity × difference), one grid. */
function heatOnGrid(bodies: readonly JudgeBody[], options: JudgeOptions): Float64Array {
  const grid = makeGrid(bodies, options);
  const nNodes = grid.holder.length;
  const band = grid.y.length;
  const hot = [...bodies.keys()].filter((i) => bodies[i]!.potential === "hot");
  const level = bodies.map((body, i) =>
    body.potential === "hot" && (options.only === undefined || hot[options.only] === i) ? 1 : 0,
  );
  const temperature = Float64Array.from(grid.holder, (holder) => (holder >= 0 ? level[holder]! : 0));
  // Row n holds the couplings to n - band ... n; held nodes keep a one on the diagonal.
  const matrix = new Float64Array(nNodes * (band + 1));
  const right = new Float64Array(nNodes);
  eachLink(grid, (a, b, conductance) => {
    const [freeA, freeB] = [grid.holder[a] === -1, grid.holder[b] === -1];
    if (freeA) matrix[a * (band + 1) + band]! += conductance;
    if (freeB) matrix[b * (band + 1) + band]! += conductance;
    if (freeA && freeB) matrix[b * (band + 1) + band - (b - a)]! -= conductance;
    if (freeA && !freeB) right[a]! += conductance * temperature[b]!;
    if (freeB && !freeA) right[b]! += conductance * temperature[a]!;
  });
  for (let n = 0; n < nNodes; n++) if (grid.holder[n] !== -1) matrix[n * (band + 1) + band] = 1;
  solveBand(right, matrix, band);
  for (let n = 0; n < nNodes; n++) if (grid.holder[n] === -1) temperature[n] = right[n]!;
  const heat = new Float64Array(bodies.length);
  eachLink(grid, (a, b, conductance) => {
    const flow = conductance * (temperature[a]! - temperature[b]!);
    if (grid.holder[a]! >= 0) heat[grid.holder[a]!]! += flow;
    if (grid.holder[b]! >= 0) heat[grid.holder[b]!]! -= flow;
  });
  // A body on the axis was cut in half.
  if (options.isSymmetric)
    bodies.forEach((body, i) => {
      if (Math.abs(body.x) < 1e-9 * body.width) heat[i] = 2 * heat[i]!;
    });
  return heat;
}

/** Cholesky factorisation of a banded matrix, and the solution in place of the right-hand side. */
function solveBand(right: Float64Array, matrix: Float64Array, band: number): void {
  const n = right.length;
  const width = band + 1;
  for (let i = 0; i < n; i++) {
    const rowI = i * width + band - i;
    const first = Math.max(0, i - band);
    for (let j = first; j <= i; j++) {
      const rowJ = j * width + band - j;
      let sum = matrix[rowI + j]!;
      for (let k = Math.max(first, j - band); k < j; k++) sum -= matrix[rowI + k]! * matrix[rowJ + k]!;
      matrix[rowI + j] = j === i ? Math.sqrt(sum) : sum / matrix[rowJ + j]!;
    }
    let sum = right[i]!;
    for (let k = first; k < i; k++) sum -= matrix[rowI + k]! * right[k]!;
    right[i] = sum / matrix[rowI + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = i * width + band - i;
    right[i] = right[i]! / matrix[row + i]!;
    for (let k = Math.max(0, i - band); k < i; k++) right[k]! -= matrix[row + k]! * right[i]!;
  }
}

/** What the judge finds, and how far its two grids lie apart: the error of the extrapolated value is a fraction of that. */
export interface Judgement {
  /** [nHot] in the order of the hot bodies. */
  readonly heat: number[];
  /** Largest relative difference between the finer grid and the extrapolated value. */
  readonly correction: number;
}

/** Heat of the hot bodies, extrapolated from a grid and one twice as fine. With `isSymmetric` bodies left of the axis are left out. */
export function judgeConduction(bodies: readonly JudgeBody[], options: JudgeOptions): Judgement {
  const present = options.isSymmetric ? bodies.filter((body) => body.x + body.width / 2 > 0) : bodies;
  const coarse = heatOnGrid(present, options);
  const fine = heatOnGrid(present, { ...options, nSteps: 2 * options.nSteps });
  const heat: number[] = [];
  let correction = 0;
  present.forEach((body, i) => {
    if (body.potential !== "hot") return;
    const value = fine[i]! + (fine[i]! - coarse[i]!) / 3;
    heat.push(value);
    correction = Math.max(correction, Math.abs(fine[i]! / value - 1));
  });
  return { heat, correction };
}
