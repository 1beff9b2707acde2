export type { LinePlotOptions, PlotSeries } from "./line-plot.ts";
export { linePlot, niceTicks } from "./line-plot.ts";
export type { Tokens } from "./tokens.ts";
export { ember, paper } from "./tokens.ts";
