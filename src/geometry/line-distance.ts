/** Distance of a place from a line of straight pieces. Main test: line-distance.test.ts. */

interface Place {
  readonly x: number;
  readonly y: number;
}

/** `line`: [n × 2] of at least two points; any unit, that of the answer. Pieces without length count as points. */
export function distanceToLine(line: Float64Array, { x, y }: Place): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [x0, y0] = [line[i]!, line[i + 1]!];
    const [dx, dy] = [line[i + 2]! - x0, line[i + 3]! - y0];
    const square = dx * dx + dy * dy;
    const share = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / square));
    nearest = Math.min(nearest, Math.hypot(x - x0 - share * dx, y - y0 - share * dy));
  }
  return nearest;
}
