/**
 * Light through a slit grid shutter: fixed metal slits on glass, a gap, and a silicon blade with slits above it.
 *
 * Rays, no diffraction: sizes well above the wavelength. Counted: reflections from the blade's walls and underside (Fresnel), from the
 * metal film, and, where an absorption is given, light through the bars, which keep it between their walls by total reflection.
 * Not counted: light that enters silicon through a wall and leaves it again (which matters where silicon passes light over the width of
 * a bar), inner reflections of a bar coming back displaced, the glass, rough faces, the ends of the grids.
 *
 * For each slope the paths are found exactly as lengths along y (gap-walk.ts), whatever the reflectances (direction-faces.ts); the
 * integral over the directions is cut at the kinks of these lengths (slope-kinks.ts) and done by Gauss rules (light-sum.ts).
 * Error of the quadrature: at the function below. Main test: light-through-slit-grids.test.ts; the judge: ray-judge.test.ts.
 */
import { type Effort, LightSum } from "./light-sum.ts";
import { nestedRule } from "./nested-rule.ts";
import { type ConeLight, requireSlitGrids, type SlitGridLight, type SlitGrids } from "./slit-grids.ts";

export interface LightOptions {
  readonly mode: "fast" | "fine";
}

const efforts: Readonly<Record<LightOptions["mode"], Effort>> = {
  fast: {
    slopeRule: nestedRule(5),
    acrossRule: nestedRule(3),
    wideAcrossRule: nestedRule(5),
    nUniformPanels: 3,
    maxKinks: 80,
    maxTrips: 60,
    pathCut: 1e-7,
    kinkCut: 5e-4,
  },
  fine: {
    slopeRule: nestedRule(7),
    acrossRule: nestedRule(7),
    wideAcrossRule: nestedRule(25),
    nUniformPanels: 12,
    maxKinks: 3000,
    maxTrips: 2000,
    pathCut: 1e-12,
    kinkCut: 1e-7,
  },
};

/**
 * Traces the light through the grids. Mode "fast" is right to 3e-6 of the open light and 1e-4 of the leak for half-angles up to 15
 * degrees, to 2e-5 and 2e-4 at 30, to 1e-3 and 2e-3 at 90 (the worst of 40 shutters at random for each angle); mode "fine" to 1e-10
 * of the leak up to 30 degrees and 1e-6 at 90. Both are smooth enough in all sizes to be differentiated by central differences.
 */
export function lightThroughSlitGrids(grids: SlitGrids, light: ConeLight, options: LightOptions): SlitGridLight {
  requireSlitGrids(grids, light);
  const effort = efforts[options.mode];
  const sum = new LightSum(grids, light, effort);
  const { pitch, bladeSlit, fixedSlit, gap, thickness, offset } = grids;
  // Light of the two senses along y sees the same section with the blade shifted the other way.
  const turns = 2 * (offset / pitch - Math.floor(offset / pitch));
  const isSymmetric = turns === 0 || turns === 1;
  for (const shift of isSymmetric ? [offset] : [offset, -offset]) {
    const fixedEdge = (bladeSlit + pitch - fixedSlit) / 2 - shift;
    sum.addSense({ pitch, bladeSlit, fixedSlit, gap, thickness, fixedEdge });
  }
  return sum.shares();
}
