export type {
  DevicePictureOptions,
  FieldScale,
  PartField,
  PictureBeam,
  PictureLabel,
  PicturePart,
  PicturePoint,
} from "./device-picture.ts";
export { colourOfShare, devicePicture } from "./device-picture.ts";
export type { IsolineField } from "./isolines.ts";
export { isolineShapes } from "./isolines.ts";
export type { LinePlotOptions, PlotAxis, PlotLimit, PlotSeries } from "./line-plot.ts";
export { linePlot } from "./line-plot.ts";
export type { RailMark, RailRow, Scale } from "./rail-layout.ts";
export { scaleOf } from "./rail-layout.ts";
export type { RailPictureOptions } from "./rail-picture.ts";
export { railPicture } from "./rail-picture.ts";
export type { LaidCurve, RegionFrame, RegionLayout, RegionParts, WordsPlace } from "./region-layout.ts";
export { layoutRegion } from "./region-layout.ts";
export type { RegionPlotOptions } from "./region-plot.ts";
export { regionPlot } from "./region-plot.ts";
export type { Gradient, Scene, Shape, Stroke } from "./scene.ts";
export { svgOfScene, wordSize } from "./scene.ts";
export { niceTicks, tickTexts } from "./ticks.ts";
export type { Tokens } from "./tokens.ts";
export { amber, ember, night, paper } from "./tokens.ts";
