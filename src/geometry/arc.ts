/**
 * Points on arcs, spaced so that chord and arc part by no more than a stated sagitta: s = r (1 - cos(step / 2)).
 * All lengths in one unit of the caller's choice. Main test: arc.test.ts.
 */

export interface Arc {
  readonly centre: readonly [x: number, y: number];
  readonly radius: number;
  /** Angle of the first point [rad]. */
  readonly from: number;
  /** Angle of the last point [rad]; below `from` the arc runs clockwise. */
  readonly to: number;
}

const mostChords = 1_000_000;

/** Fewest chords of an arc that keep within the sagitta. */
export function countChords(arc: { radius: number; sweep: number }, sagitta: number): number {
  if (!(sagitta > 0)) throw new RangeError(`Cannot divide an arc: wanted a positive sagitta, found ${sagitta}`);
  const step = 2 * Math.acos(Math.max(-1, 1 - sagitta / arc.radius));
  const chords = Math.max(1, Math.ceil(Math.abs(arc.sweep) / Math.min(step, Math.PI / 2) - 1e-9));
  if (!(chords <= mostChords))
    throw new RangeError(`Cannot divide an arc of radius ${arc.radius}: sagitta ${sagitta} asks for ${chords} chords`);
  return chords;
}

/** Points [x0 y0 ...] along an arc, both ends included, all on the arc. */
export function arcPoints(arc: Arc, options: { sagitta: number }): Float64Array {
  const sweep = arc.to - arc.from;
  const chords = countChords({ radius: arc.radius, sweep }, options.sagitta);
  const points = new Float64Array(2 * (chords + 1));
  for (let i = 0; i <= chords; i++) {
    const angle = arc.from + (sweep * i) / chords;
    points[2 * i] = arc.centre[0] + arc.radius * Math.cos(angle);
    points[2 * i + 1] = arc.centre[1] + arc.radius * Math.sin(angle);
  }
  return points;
}

/** Outline [x0 y0 ...] of a full disc, counter-clockwise, inscribed. */
export function discOutline(
  disc: { centre: readonly [x: number, y: number]; radius: number },
  options: { sagitta: number },
): Float64Array {
  const closed = arcPoints({ ...disc, from: 0, to: 2 * Math.PI }, options);
  return closed.slice(0, closed.length - 2);
}
