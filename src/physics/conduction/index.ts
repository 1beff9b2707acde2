export type { LineSection } from "./closed-forms.ts";
export { meijsFokkemaShapeFactor, plateConduction, plateEdgeFactor, thinFilmShapeFactor } from "./closed-forms.ts";
export type { CrossSection, ShapeFactorOptions } from "./shape-factors.ts";
export { crossSectionShapeFactors } from "./shape-factors.ts";
