export type { WallDrag } from "./cylinder-at-wall.ts";
export { cylinderAtWallDrag } from "./cylinder-at-wall.ts";
export type { CylinderDrag } from "./free-cylinder.ts";
export { cylinderDrag } from "./free-cylinder.ts";
export type { RectangularFilm } from "./gas-film.ts";
export { lengthenedFilm } from "./gas-film.ts";
export {
  effectiveFilmViscosity,
  filmViscosityFactor,
  knudsenNumber,
  slidingSlipFactor,
  slipViscosityFactor,
} from "./rarefied-gas.ts";
export type { ShearedGas } from "./sliding-film.ts";
export { freeFaceDamping, penetrationDepth, slidingFilmDamping } from "./sliding-film.ts";
export type { CircularFilm, FilmForce, FilmVibration, PlateOpenings } from "./squeeze-film.ts";
export {
  circularFilmDamping,
  compressibleSqueezeFilm,
  leakyFilmDamping,
  openingResistance,
  squeezeFilmDamping,
  squeezeNumber,
} from "./squeeze-film.ts";
export type { NoisyMode } from "./thermal-noise.ts";
export {
  accelerationNoise,
  capacitorNoise,
  forceNoise,
  resistorNoise,
  thermalDisplacement,
  thermalMotion,
} from "./thermal-noise.ts";
export type { FilmMoment } from "./tilting-film.ts";
export { tiltingFilm } from "./tilting-film.ts";
