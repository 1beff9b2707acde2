export { bentBeamBank, bentBeamPair, straightBar } from "./bent-beam.ts";
