/** Polygons in the form the clipping library wants, and back. Main test: boolean.test.ts. */
import type { Path64 } from "clipper2-ts";
import { roundToDbu } from "./grid.ts";
import type { Polygon } from "./polygon.ts";
import { dropSpikes } from "./tidy.ts";

function pathFromPolygon(polygon: Polygon): Path64 {
  const path: Path64 = new Array(polygon.length / 2);
  for (let i = 0; i < path.length; i++) path[i] = { x: polygon[2 * i]!, y: polygon[2 * i + 1]! };
  return path;
}

/**
 * Paths of a set without its spikes and without polygons that have no area: the library can lose area beside an edge that doubles
 * back on itself, and fails on a path without points.
 */
export function pathsFromPolygons(polygons: readonly Polygon[]): Path64[] {
  return polygons
    .map(dropSpikes)
    .filter((polygon) => polygon.length > 0)
    .map(pathFromPolygon);
}

export function polygonFromPath(path: Path64): Polygon {
  const polygon = new Int32Array(2 * path.length);
  path.forEach((point, i) => {
    polygon[2 * i] = roundToDbu(point.x);
    polygon[2 * i + 1] = roundToDbu(point.y);
  });
  return polygon;
}
