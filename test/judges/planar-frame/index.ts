export type { FrameLoading } from "./frame.ts";
export { PlanarFrameModel } from "./frame.ts";
