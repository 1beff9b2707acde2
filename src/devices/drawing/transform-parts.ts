/** Moving, turning and mirroring parts. A mirror image of a part is a part: slabs are symmetric about their own axes. */
import { type Transform, transformOutline } from "#geometry";
import type { Part, Place, Slab } from "./part.ts";

export function transformPlace(place: Place, transform: Transform): Place {
  return {
    x: transform.xx * place.x + transform.xy * place.y + transform.x0,
    y: transform.yx * place.x + transform.yy * place.y + transform.y0,
  };
}

/** Direction [rad] that a direction turns into. */
export function transformDirection(direction: number, { xx, xy, yx, yy }: Transform): number {
  const [c, s] = [Math.cos(direction), Math.sin(direction)];
  return Math.atan2(yx * c + yy * s, xx * c + xy * s);
}

function transformSlab(slab: Slab, transform: Transform): Slab {
  return { ...slab, centre: transformPlace(slab.centre, transform), turn: transformDirection(slab.turn, transform) };
}

/** Points [n × 2] in their own order; transformOutline would turn the order round in a mirror to keep outlines counter-clockwise. */
function transformLine(line: Float64Array, transform: Transform): Float64Array {
  const out = new Float64Array(line.length);
  for (let i = 0; i < line.length; i += 2) {
    const { x, y } = transformPlace({ x: line[i]!, y: line[i + 1]! }, transform);
    out[i] = x;
    out[i + 1] = y;
  }
  return out;
}

/** True where the axes of the die turn into themselves, so that holds and springs along x and y keep their meaning. */
function keepsAxes({ xy, yx }: Transform): boolean {
  return Math.abs(xy) < 1e-12 && Math.abs(yx) < 1e-12;
}

/** The part in its new place, under a new name. Springs and supports along x and y can be mirrored and moved, not turned. */
export function transformPart(part: Part, transform: Transform, name: string): Part {
  switch (part.kind) {
    case "anchor":
    case "plate":
      return { ...part, name, slab: transformSlab(part.slab, transform) };
    case "beam":
      return { ...part, name, line: transformLine(part.line, transform) };
    case "metal":
      return { ...part, name, outline: transformOutline(part.outline, transform) };
    case "stop":
      return {
        ...part,
        name,
        at: transformPlace(part.at, transform),
        direction: transformDirection(part.direction, transform),
      };
    case "lump":
      return { ...part, name, at: transformPlace(part.at, transform) };
    case "spring":
    case "support":
      if (!keepsAxes(transform) && !isTurnInvariant(part))
        throw new RangeError(
          `Cannot turn ${part.name}: it holds along the axes of the die; wanted a shift or a mirror image, found a turn`,
        );
      return { ...part, name, at: transformPlace(part.at, transform) };
  }
}

function isTurnInvariant(part: Extract<Part, { kind: "spring" | "support" }>): boolean {
  return part.kind === "spring" ? part.x === part.y : part.holds.includes("x") === part.holds.includes("y");
}
