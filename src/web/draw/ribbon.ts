/** The outline of a beam from its centre line. Main test: ribbon.test.ts. */

/** Least width of a beam in a picture, [px]. */
const thinnest = 1;

/** `line` [n × 2] px; widths at its two ends, linear in between, [px]; the outline has 2 n points. */
export function ribbon(line: Float64Array, widths: readonly [start: number, end: number]): Float64Array {
  const n = line.length / 2;
  const outline = new Float64Array(4 * n);
  for (let i = 0; i < n; i++) {
    const [before, after] = [Math.max(0, i - 1), Math.min(n - 1, i + 1)];
    const [dx, dy] = [line[2 * after]! - line[2 * before]!, line[2 * after + 1]! - line[2 * before + 1]!];
    const length = Math.hypot(dx, dy) || 1;
    const half = Math.max(thinnest, widths[0] + ((widths[1] - widths[0]) * i) / Math.max(1, n - 1)) / 2;
    const [nx, ny] = [(-dy / length) * half, (dx / length) * half];
    const back = 2 * (2 * n - 1 - i);
    outline[2 * i] = line[2 * i]! + nx;
    outline[2 * i + 1] = line[2 * i + 1]! + ny;
    outline[back] = line[2 * i]! - nx;
    outline[back + 1] = line[2 * i + 1]! - ny;
  }
  return outline;
}
