export type { CrossSection, ShapeFactorOptions } from "./shape-factors.ts";
export { crossSectionShapeFactors } from "./shape-factors.ts";
