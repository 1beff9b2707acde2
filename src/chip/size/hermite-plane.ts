/**
 * A smooth stand-in for functions over the unit square, from values and slopes at nodes: bicubic Hermite pieces on a grid that is halved
 * where it pays. A node of a finer grid that is not worth solving takes what the coarser one says there, so that the stand-in stays
 * smooth everywhere. Each solved node first tells by how much the coarser grid was wrong there: that is the error that is stated.
 * Main test: hermite-plane.test.ts.
 */

/** Answer at a node: `values` [m]; `slopes` [m × 2] per unit of the square; NaN where there is none. */
export interface NodeAnswer {
  readonly values: Float64Array;
  readonly slopes: Float64Array;
}

interface Node extends NodeAnswer {
  readonly solved: boolean;
}

const basis = (t: number): readonly [number, number, number, number] => [
  (1 + 2 * t) * (1 - t) ** 2,
  t * (1 - t) ** 2,
  t * t * (3 - 2 * t),
  t * t * (t - 1),
];

export class HermitePlane {
  /** Cells a side. */
  cells: number;
  private nodes = new Map<number, Node>();
  /** Largest error of the next coarser grid at nodes solved since, by cell of the present grid and function; NaN where none was. */
  private errors: Float64Array;
  /** Error that a cell brought along from the coarser one that it came from. */
  private inherited: Float64Array;
  /** Cells asked for before, until a node changes. */
  private readonly kept = new Map<number, Float64Array>();

  constructor(
    readonly nFunctions: number,
    cells: number,
  ) {
    this.cells = cells;
    this.errors = new Float64Array(cells * cells * nFunctions).fill(Number.NaN);
    this.inherited = this.errors.map(() => Number.POSITIVE_INFINITY);
  }

  private key(i: number, j: number): number {
    return j * (this.cells + 1) + i;
  }

  setNode(i: number, j: number, answer: NodeAnswer): void {
    this.kept.clear();
    const before = this.nodes.get(this.key(i, j));
    this.nodes.set(this.key(i, j), { ...answer, solved: true });
    if (before === undefined) return;
    for (let cellJ = Math.max(0, j - 1); cellJ <= Math.min(this.cells - 1, j); cellJ++) {
      for (let cellI = Math.max(0, i - 1); cellI <= Math.min(this.cells - 1, i); cellI++) {
        for (let f = 0; f < this.nFunctions; f++) {
          const at = (cellJ * this.cells + cellI) * this.nFunctions + f;
          const error = Math.abs(answer.values[f]! - before.values[f]!);
          const known = this.errors[at]!;
          this.errors[at] = Number.isNaN(known) ? error : Math.max(known, error);
        }
      }
    }
  }

  isSolved(i: number, j: number): boolean {
    return this.nodes.get(this.key(i, j))?.solved === true;
  }

  /**
   * Error of the present grid in a cell, as far as is known: cubic pieces leave a sixteenth of that of the coarser grid, but the first
   * halving is too coarse to show its order: a quarter.
   */
  errorIn(i: number, j: number, f: number): number {
    const at = (j * this.cells + i) * this.nFunctions + f;
    return Number.isNaN(this.errors[at]!) ? this.inherited[at]! : this.errors[at]! / (this.cells > 2 ? 16 : 4);
  }

  /** Halves all cells; new nodes are foretold by the present grid. */
  halve(): void {
    const next = new Map<number, Node>();
    const wide = 2 * this.cells + 1;
    for (let j = 0; j < wide; j++) {
      for (let i = 0; i < wide; i++) {
        const known = i % 2 === 0 && j % 2 === 0 ? this.nodes.get(this.key(i / 2, j / 2)) : undefined;
        next.set(j * wide + i, known ?? { ...this.answerAt(i / (wide - 1), j / (wide - 1)), solved: false });
      }
    }
    const wideCells = 2 * this.cells;
    const inherited = new Float64Array(wideCells * wideCells * this.nFunctions);
    for (let j = 0; j < wideCells; j++)
      for (let i = 0; i < wideCells; i++)
        for (let f = 0; f < this.nFunctions; f++)
          inherited[(j * wideCells + i) * this.nFunctions + f] = this.errorIn(i >> 1, j >> 1, f);
    this.inherited = inherited;
    this.errors = new Float64Array(inherited.length).fill(Number.NaN);
    this.nodes = next;
    this.kept.clear();
    this.cells *= 2;
  }

  /** Mixed second derivative at a node, per square, by differences of the slopes. */
  private twist(i: number, j: number, f: number): number {
    const n = this.cells;
    const part = (a: Node | undefined, b: Node | undefined, axis: 0 | 1, distance: number): number => {
      const value = (b!.slopes[2 * f + axis]! - a!.slopes[2 * f + axis]!) / distance;
      return Number.isFinite(value) ? value : 0;
    };
    const [left, right] = [Math.max(0, i - 1), Math.min(n, i + 1)];
    const [down, up] = [Math.max(0, j - 1), Math.min(n, j + 1)];
    const alongX = part(this.nodes.get(this.key(left, j)), this.nodes.get(this.key(right, j)), 1, (right - left) / n);
    const alongY = part(this.nodes.get(this.key(i, down)), this.nodes.get(this.key(i, up)), 0, (up - down) / n);
    return (alongX + alongY) / 2;
  }

  /** What a cell is made of: at each corner the value, both slopes and the twist, per cell; undefined where a corner has none. */
  private cellOf(i: number, j: number, f: number): Float64Array | undefined {
    const n = this.cells;
    const key = (j * n + i) * this.nFunctions + f;
    const kept = this.kept.get(key);
    if (kept !== undefined) return kept;
    const cell = new Float64Array(16);
    for (let corner = 0; corner < 4; corner++) {
      const [a, b] = [i + (corner & 1), j + (corner >> 1)];
      const node = this.nodes.get(this.key(a, b))!;
      cell[4 * corner] = node.values[f]!;
      cell[4 * corner + 1] = node.slopes[2 * f]! / n;
      cell[4 * corner + 2] = node.slopes[2 * f + 1]! / n;
      cell[4 * corner + 3] = this.twist(a, b, f) / (n * n);
    }
    if (!cell.every(Number.isFinite)) return undefined;
    this.kept.set(key, cell);
    return cell;
  }

  /** Value of one function at a point of the square. */
  valueAt(x: number, y: number, f: number): number {
    const n = this.cells;
    const i = Math.min(n - 1, Math.max(0, Math.floor(x * n)));
    const j = Math.min(n - 1, Math.max(0, Math.floor(y * n)));
    const [s, t] = [x * n - i, y * n - j];
    const cell = this.cellOf(i, j, f);
    if (cell !== undefined) {
      const [bx, by] = [basis(s), basis(t)];
      let sum = 0;
      for (let corner = 0; corner < 4; corner++) {
        const [right, up] = [2 * (corner & 1), 2 * (corner >> 1)];
        sum +=
          (cell[4 * corner]! * bx[right]! + cell[4 * corner + 1]! * bx[right + 1]!) * by[up]! +
          (cell[4 * corner + 2]! * bx[right]! + cell[4 * corner + 3]! * bx[right + 1]!) * by[up + 1]!;
      }
      return sum;
    }
    // beside ground without a value, each corner speaks for its quarter
    const nearest = this.nodes.get(this.key(i + (s < 0.5 ? 0 : 1), j + (t < 0.5 ? 0 : 1)))!;
    const slope = (axis: 0 | 1): number => (Number.isFinite(nearest.slopes[2 * f + axis]!) ? nearest.slopes[2 * f + axis]! : 0);
    return nearest.values[f]! + (slope(0) * (s - Math.round(s))) / n + (slope(1) * (t - Math.round(t))) / n;
  }

  /** Slopes of one function at a point, by a difference that is small against a cell. */
  slopeAt(x: number, y: number, f: number): readonly [number, number] {
    const h = 1e-4 / this.cells;
    const [left, right] = [Math.max(0, x - h), Math.min(1, x + h)];
    const [down, up] = [Math.max(0, y - h), Math.min(1, y + h)];
    return [
      (this.valueAt(right, y, f) - this.valueAt(left, y, f)) / (right - left),
      (this.valueAt(x, up, f) - this.valueAt(x, down, f)) / (up - down),
    ];
  }

  private answerAt(x: number, y: number): NodeAnswer {
    const values = Float64Array.from({ length: this.nFunctions }, (_, f) => this.valueAt(x, y, f));
    const slopes = Float64Array.from({ length: 2 * this.nFunctions }, (_, k) => this.slopeAt(x, y, k >> 1)[k % 2]!);
    return { values, slopes };
  }

  /** Values of one function on n × n points, row-major. */
  grid(n: number, f: number): Float64Array {
    const { cells } = this;
    const cellAt = Int32Array.from({ length: n }, (_, k) => Math.min(cells - 1, Math.floor((k / (n - 1)) * cells)));
    const weights = Array.from(cellAt, (cell, k) => basis((k / (n - 1)) * cells - cell));
    const values = new Float64Array(n * n);
    for (let row = 0; row < n; row++) {
      const [b0, b1, b2, b3] = weights[row]!;
      for (let column = 0; column < n; column++) {
        const c = this.cellOf(cellAt[column]!, cellAt[row]!, f);
        if (c === undefined) {
          values[row * n + column] = this.valueAt(column / (n - 1), row / (n - 1), f);
          continue;
        }
        const [a0, a1, a2, a3] = weights[column]!;
        // the corners lower left, lower right, upper left, upper right, as in valueAt
        const lower =
          (c[0]! * a0 + c[1]! * a1 + c[4]! * a2 + c[5]! * a3) * b0 + (c[2]! * a0 + c[3]! * a1 + c[6]! * a2 + c[7]! * a3) * b1;
        const upper =
          (c[8]! * a0 + c[9]! * a1 + c[12]! * a2 + c[13]! * a3) * b2 +
          (c[10]! * a0 + c[11]! * a1 + c[14]! * a2 + c[15]! * a3) * b3;
        values[row * n + column] = lower + upper;
      }
    }
    return values;
  }
}
