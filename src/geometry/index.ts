export type { Arc } from "./arc.ts";
export { arcPoints, countChords, discOutline } from "./arc.ts";
export type { Region } from "./boolean.ts";
export { areaOf, comparePolygonSets, differenceOf, exclusiveOrOf, intersectionOf, regionsOf, unionOf } from "./boolean.ts";
export type { DecomposeOptions } from "./decompose.ts";
export { decomposePolygons } from "./decompose.ts";
export type { FilletOptions } from "./fillet.ts";
export { filletCorners } from "./fillet.ts";
export {
  dbuFromMetres,
  largestDbu,
  metresFromDbu,
  metresPerDbu,
  outlineFromPolygon,
  polygonFromOutline,
  roundToDbu,
  squareMetresFromDbu,
} from "./grid.ts";
export { distanceToLine } from "./line-distance.ts";
export type { Join } from "./offset.ts";
export { offsetPolygons } from "./offset.ts";
export { findSelfCrossing, sideOfPoint, turnSign } from "./orientation.ts";
export type { Box, Polygon } from "./polygon.ts";
export {
  boundingBox,
  counterClockwise,
  countPoints,
  perimeter,
  polygonFrom,
  rectangle,
  reversePolygon,
  signedArea,
  sumOfAreas,
} from "./polygon.ts";
export type { StrokeOptions } from "./stroke.ts";
export { strokePolygons } from "./stroke.ts";
export { dropIdlePoints, dropSpikes } from "./tidy.ts";
export type { Transform } from "./transform.ts";
export {
  composeTransforms,
  identity,
  isMirroring,
  mirror,
  rotation,
  scaling,
  transformOutline,
  transformPolygon,
  transformPolygons,
  translation,
} from "./transform.ts";
