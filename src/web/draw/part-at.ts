/** Which part of a device lies under a point of the picture. Main test: part-at.test.ts. */
import type { DeviceView } from "#devices";
import { distanceToLine } from "#geometry";

interface Place {
  readonly x: number;
  readonly y: number;
}

/** Even-odd: inside the outline and not in an opening. */
export function isInside(outlines: readonly Float64Array[], { x, y }: Place): boolean {
  let inside = false;
  for (const points of outlines) {
    const n = points.length / 2;
    for (let i = 0, j = n - 1; i < n; j = i++) {
      const [xi, yi, xj, yj] = [points[2 * i]!, points[2 * i + 1]!, points[2 * j]!, points[2 * j + 1]!];
      if (yi > y !== yj > y && x < xi + ((y - yi) / (yj - yi)) * (xj - xi)) inside = !inside;
    }
  }
  return inside;
}

/** The part at a place of the die, a thin beam also a little beside it; undefined over free ground. `reach` in metres. */
export function partAt(view: DeviceView, at: { readonly place: Place; readonly reach: number }): string | undefined {
  const beams = view.beams
    .map(({ name, line, widths }) => ({ name, beyond: distanceToLine(line, at.place) - Math.max(...widths) / 2 }))
    .filter(({ beyond }) => beyond <= at.reach)
    .sort((a, b) => a.beyond - b.beyond);
  const body = view.bodies.find(({ outlines }) => isInside(outlines, at.place));
  // a beam right under the point goes before a body that it crosses; one beside it does not
  if (body !== undefined && !(beams[0] !== undefined && beams[0].beyond <= 0)) return body.name;
  return beams[0]?.name;
}

/** All parts in the order in which they are walked through: bodies, then beams. */
export const partNames = (view: DeviceView): readonly string[] => [...view.bodies, ...view.beams].map(({ name }) => name);
