/**
 * A straight beam of even width. Its ends are cut along the edges that it joins, so that the outline is a parallelogram between them;
 * as built it is narrower by the edge loss on both sides and longer by the edge loss of the parts at its ends.
 */
import type { Part } from "../assembly.ts";
import type { BeamRole } from "../frame-builder.ts";

/** End of a beam on a vertical edge: the place on the edge, and which way the edge moves when silicon is lost there. */
export interface BeamEnd {
  readonly x: number;
  readonly y: number;
  /** Direction in which this end moves when silicon edges move inward: -1 towards -x, +1 towards +x, 0 not at all. */
  readonly recedes: -1 | 0 | 1;
  /** Name of the frame node that the end belongs to. */
  readonly node: string;
  /** Held in place: the end is clamped in an anchor. */
  readonly fixed: boolean;
  /** Name of an existing point to join; otherwise a new point is made. */
  readonly point?: string;
}

export interface BeamOptions {
  readonly role: BeamRole;
  readonly from: BeamEnd;
  readonly to: BeamEnd;
  /** Target width across the beam, [m]. */
  readonly width: number;
  readonly free: boolean;
}

/** How far an outline reaches into the parts it joins, so that the union has no seam, [m]. */
const overlap = 2e-6;

export function beam(name: string, options: BeamOptions): Part {
  const { from, to } = options;
  const dx = to.x - from.x;
  const slope = (to.y - from.y) / dx;
  return {
    name,
    outlines: () => {
      const half = (options.width / 2) * Math.sqrt(1 + slope * slope);
      const reach = Math.sign(dx) * overlap;
      const start = { x: from.x - reach, y: from.y - reach * slope };
      const end = { x: to.x + reach, y: to.y + reach * slope };
      const [left, right] = dx > 0 ? [start, end] : [end, start];
      const polygon = Float64Array.of(
        left.x,
        left.y - half,
        right.x,
        right.y - half,
        right.x,
        right.y + half,
        left.x,
        left.y + half,
      );
      return [{ plate: "silicon", polygon, free: options.free }];
    },
    addToFrame: (frame) => {
      const place = (end: BeamEnd, label: string): number => {
        if (end.point !== undefined) return frame.point(end.point);
        const shift = end.recedes * frame.sizes.inward;
        return frame.addPoint(`${name} ${label}`, {
          x: end.x + shift,
          y: end.y + shift * slope,
          node: frame.node(end.node),
          fixed: end.fixed,
        });
      };
      const start = place(from, "start");
      const finish = place(to, "end");
      frame.addBeam({ name, role: options.role, from: start, to: finish, width: frame.lineWidth(options.width, name) });
    },
  };
}
