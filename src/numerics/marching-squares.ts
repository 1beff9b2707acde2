/**
 * Lines of equal value over a plane, from values on a grid of points.
 *
 * Marching squares: each cell is crossed by none, one or two pieces; pieces that share a crossing are joined to polylines. A saddle is
 * parted by the mean of its corners. Crossings lie where the straight line between two corners meets the level. A cell with a corner
 * that has no value (NaN) is left out, so that a line ends there. Main test: circles and saddles, marching-squares.test.ts.
 */

export interface GridValues {
  readonly nx: number;
  readonly ny: number;
  /** [ny × nx], row-major, x along a row. */
  readonly values: Float64Array;
}

export interface ContourLine {
  /** [n × 2] x and y in steps of the grid, from 0 to nx - 1 and ny - 1; values above the level lie on the left of the line. */
  readonly points: Float64Array;
  readonly closed: boolean;
}

/** Corners of a cell, counter-clockwise from the lower left: steps along x and y. */
const corners = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
] as const;

interface Piece {
  readonly from: number;
  readonly to: number;
}

/** Number of the grid edge between corner k and the next of the cell at (i, j): even ones run along x, odd ones along y. */
function edgeNumber(nx: number, cell: { i: number; j: number }, k: number): number {
  const { i, j } = cell;
  if (k === 0) return 2 * (j * nx + i);
  if (k === 1) return 2 * (j * nx + i + 1) + 1;
  if (k === 2) return 2 * ((j + 1) * nx + i);
  return 2 * (j * nx + i) + 1;
}

/** Pieces through one cell, each with the higher ground on its left. */
function piecesOf(grid: GridValues, level: number, cell: { i: number; j: number }): readonly Piece[] {
  const { nx, values } = grid;
  const heights = corners.map(([right, up]) => values[(cell.j + up) * nx + cell.i + right]! - level);
  if (heights.some(Number.isNaN)) return [];
  const above = heights.map((height) => height >= 0);
  // going round counter-clockwise, a line enters the cell where the ground falls below the level and leaves where it rises
  const falls = [0, 1, 2, 3].filter((k) => above[k] && !above[(k + 1) % 4]);
  const rises = [0, 1, 2, 3].filter((k) => !above[k] && above[(k + 1) % 4]);
  const number = (k: number): number => edgeNumber(nx, cell, k);
  if (falls.length === 1) return [{ from: number(falls[0]!), to: number(rises[0]!) }];
  if (falls.length === 0) return [];
  const joined = heights.reduce((sum, height) => sum + height, 0) >= 0;
  return falls.map((fall) => ({ from: number(fall), to: number(joined ? (fall + 1) % 4 : (fall + 3) % 4) }));
}

/** Where a grid edge meets the level, in steps of the grid. */
function crossing(grid: GridValues, level: number, edge: number): readonly [number, number] {
  const { nx, values } = grid;
  const node = edge >> 1;
  const [i, j] = [node % nx, Math.floor(node / nx)];
  const alongY = (edge & 1) === 1;
  const a = values[node]!;
  const b = values[alongY ? node + nx : node + 1]!;
  const part = Math.min(1, Math.max(0, (level - a) / (b - a)));
  return alongY ? [i, j + part] : [i + part, j];
}

/** All lines at one level. */
export function contourLines(grid: GridValues, level: number): readonly ContourLine[] {
  const { nx, ny, values } = grid;
  if (values.length !== nx * ny) throw new RangeError(`Cannot draw contours: wanted ${nx * ny} values, found ${values.length}`);
  const next = new Map<number, number>();
  const before = new Map<number, number>();
  for (let j = 0; j < ny - 1; j++) {
    for (let i = 0; i < nx - 1; i++) {
      for (const { from, to } of piecesOf(grid, level, { i, j })) {
        next.set(from, to);
        before.set(to, from);
      }
    }
  }
  const lines: ContourLine[] = [];
  const follow = (start: number): void => {
    const edges = [start];
    let at = next.get(start);
    next.delete(start);
    while (at !== undefined && at !== start) {
      edges.push(at);
      const after = next.get(at);
      next.delete(at);
      at = after;
    }
    const closed = at === start;
    if (closed) edges.push(start);
    lines.push({ points: Float64Array.from(edges.flatMap((edge) => crossing(grid, level, edge))), closed });
  };
  for (const edge of [...next.keys()]) if (!before.has(edge) && next.has(edge)) follow(edge);
  for (const edge of [...next.keys()]) if (next.has(edge)) follow(edge);
  return lines;
}
