/**
 * Moving boundaries outward or inward by an exact distance: etch bias, undercut, clearance.
 *
 * Straight edges move by the distance, to within the rounding of the new corners to the grid (0.71 dbu); a distance that is a fraction
 * of the grid is offset on a finer one. Rounded corners are chords
 * of the true arc and lie inside it by at most the sagitta that the caller states.
 * Main test: offset.test.ts (areas of grown rectangles and polygons in closed form; out and in again).
 */
import { Clipper, EndType, FillRule, JoinType, type Path64 } from "clipper2-ts";
import { pathsFromPolygons, polygonFromPath } from "./clipper-path.ts";
import type { Polygon } from "./polygon.ts";

/** How corners are treated when a boundary moves outward from them. */
export type Join =
  | {
      /** Corners stay sharp up to a reach of `limit` times the distance, and are cut square beyond. */
      readonly join: "mitre";
      /** 2 keeps corners of 60 degrees and more sharp. */
      readonly limit: number;
    }
  | {
      /** Corners become arcs. */
      readonly join: "round";
      /** Largest distance between the arc and its chords [dbu]: the arc is too small by at most this. */
      readonly sagitta: number;
    };

/** Largest number of chords an arc of a rounded offset may ask for in a full turn. */
const mostChords = 100_000;

/** Below 0.01 dbu the clipping library silently takes a sagitta of its own. */
const leastSagitta = 0.02;

/** How much finer the grid is on which fractions of it are offset: the clipping library loses whole polygons at half a grid step. */
const finer = 16;

function scaled(paths: readonly Path64[], factor: number): Path64[] {
  return paths.map((path) => path.map(({ x, y }) => ({ x: x * factor, y: y * factor })));
}

function checkJoin(distance: number, join: Join): void {
  if (!Number.isFinite(distance)) throw new RangeError(`Cannot offset: wanted a finite distance, found ${distance}`);
  if (join.join === "mitre" && !(join.limit >= 1))
    throw new RangeError(`Cannot offset: wanted a mitre limit of at least 1, found ${join.limit}`);
  if (join.join === "round") {
    if (!(join.sagitta >= leastSagitta)) {
      throw new RangeError(`Cannot offset: wanted a sagitta of at least ${leastSagitta} database units, found ${join.sagitta}`);
    }
    if (Math.PI * Math.sqrt(Math.abs(distance) / (2 * join.sagitta)) > mostChords) {
      throw new RangeError(
        `Cannot offset by ${distance}: a sagitta of ${join.sagitta} asks for more than ${mostChords} chords a turn`,
      );
    }
  }
}

/**
 * The set with every boundary moved outward by `distance` [dbu, may be a fraction], inward if negative. New points are rounded to
 * the grid. What is narrower than twice an inward distance vanishes.
 */
export function offsetPolygons(polygons: readonly Polygon[], distance: number, options: Join): readonly Polygon[] {
  checkJoin(distance, options);
  const merged = Clipper.union(pathsFromPolygons(polygons), FillRule.NonZero);
  const grid = Number.isInteger(distance) ? 1 : finer;
  const round = options.join === "round";
  const moved = Clipper.inflatePaths(
    grid === 1 ? merged : scaled(merged, grid),
    grid * distance,
    round ? JoinType.Round : JoinType.Miter,
    EndType.Polygon,
    round ? 2 : options.limit,
    round ? grid * options.sagitta : 0,
  );
  if (grid === 1) return moved.map(polygonFromPath);
  // corners that fall together or cross on the coarser grid are put right
  const rounded = scaled(moved, 1 / grid).map(polygonFromPath);
  return Clipper.union(pathsFromPolygons(rounded), FillRule.NonZero).map(polygonFromPath);
}
