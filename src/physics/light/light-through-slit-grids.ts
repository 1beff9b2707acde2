/**
 * Light through a slit grid shutter: fixed metal slits on glass, a gap, and a silicon blade with slits above it.
 *
 * Rays, no diffraction: sizes well above the wavelength. Counted: reflections from the blade's walls and underside (Fresnel), from the
 * metal film, and, where an absorption is given, light through the bars, which keep it between their walls by total reflection.
 * Not counted: light that enters silicon through a wall and leaves it again (matters where a bar's width is not opaque), the glass
 * itself, scattering, grids that end. At each level face the light is treated as unpolarised; along walls the two polarisations
 * stay apart (exact for cones up to some 20 degrees, where silicon met from above reflects both alike).
 *
 * For each slope the paths are found exactly as lengths along y (gap-walk.ts); the integral over slopes is cut at the kinks of those
 * lengths (slope-kinks.ts) and done by Gauss rules, as is the one over the remaining direction component. With u and v the direction
 * cosines along y and x, and u' = u / sqrt(1 - v²) the sine of the slope's angle, Lambert's flux cos(theta) dOmega = du dv becomes
 * sqrt(1 - v²) du' dv. Error of the quadrature: see the modes below. Main test: light-through-slit-grids.test.ts.
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
    wideAcrossRule: nestedRule(7),
    nUniformPanels: 3,
    maxKinks: 120,
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
 * Traces the light through the grids. Mode "fast" is right to about 1e-4 of the open light, mode "fine" to about 1e-7; both are
 * smooth enough in all sizes to be differentiated by central differences.
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
