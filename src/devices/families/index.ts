import type { Family } from "../family.ts";
import { bentBeamBank, bentBeamPair, straightBar } from "./bent-beam.ts";

/** Every family that a chip text may name. */
export const families: readonly Family[] = [bentBeamPair, bentBeamBank, straightBar];
