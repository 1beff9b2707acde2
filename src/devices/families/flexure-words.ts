/** Every flexure that a body may hang on. */
import type { PartWord } from "../draft.ts";
import { clampedGuidedBeamPart } from "./clamped-guided-beam.ts";
import { crabLegPart } from "./crab-leg.ts";
import { foldedFlexurePart } from "./folded-flexure.ts";
import { serpentinePart } from "./serpentine.ts";

export const flexureWords: readonly PartWord[] = [clampedGuidedBeamPart, foldedFlexurePart, crabLegPart, serpentinePart];
