import { composition } from "../composition/composition.ts";
import type { Family } from "../family.ts";
import { bentBeamBank, bentBeamPair } from "./bent-beam.ts";
import { cascade } from "./cascade.ts";
import { hotAndColdArm } from "./hot-and-cold-arm.ts";
import { straightBar } from "./straight-bar.ts";
import { suspendedPlate } from "./suspended-plate.ts";

export const families: readonly Family[] = [
  bentBeamPair,
  bentBeamBank,
  straightBar,
  cascade,
  hotAndColdArm,
  suspendedPlate,
  composition,
];
