export type { LinePlotOptions, PlotAxis, PlotLimit, PlotSeries } from "./line-plot.ts";
export { linePlot } from "./line-plot.ts";
export { niceTicks, tickTexts } from "./ticks.ts";
export type { Tokens } from "./tokens.ts";
export { amber, ember, night, paper } from "./tokens.ts";
