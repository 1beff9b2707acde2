/** The words that may stand after "is" among the parts of a composition, and the fields that each takes there. */
import { type Fields, type RecordShape, record, type TaggedShape } from "#base";
import type { PartWord } from "../draft.ts";
import { bentBeamBankPart, bentBeamPairPart } from "../families/bent-beam.ts";
import { cascadePart } from "../families/cascade.ts";
import { fixedSlitsPart } from "../families/fixed-slits.ts";
import { flexureWords } from "../families/flexure-words.ts";
import { hotAndColdArmPart } from "../families/hot-and-cold-arm.ts";
import { slitBladePart } from "../families/slit-blade.ts";
import { anchorPart } from "../parts/anchor.ts";
import { beamPart, curvedBeamPart } from "../parts/beam.ts";
import { drawnAngle, pointName } from "../parts/fields.ts";
import { lumpPart, padPart, springPart, stopPart, supportPart, wirePart } from "../parts/idealised.ts";
import { platePart } from "../parts/plate.ts";

export const partWords: readonly PartWord[] = [
  anchorPart,
  beamPart,
  curvedBeamPart,
  platePart,
  padPart,
  wirePart,
  supportPart,
  springPart,
  stopPart,
  lumpPart,
  bentBeamPairPart,
  bentBeamBankPart,
  cascadePart,
  hotAndColdArmPart,
  ...flexureWords,
  slitBladePart,
  fixedSlitsPart,
];

const placeFields = {
  at: { shape: pointName, about: "Point at which its own origin lies." },
  turned: {
    shape: drawnAngle("90 deg"),
    about: "Turned by this angle about that point, counter-clockwise.",
    optional: true,
  },
} as const satisfies Fields;

function fieldsOf(word: PartWord): Fields {
  return word.placed ? { ...placeFields, ...word.fields } : word.fields;
}

export const partShape: TaggedShape = {
  kind: "tagged",
  tag: "is",
  variants: new Map<string, RecordShape>(partWords.map((word) => [word.name, record(fieldsOf(word))])),
};

export function findPartWord(name: string): PartWord {
  const word = partWords.find((candidate) => candidate.name === name);
  if (word === undefined) throw new RangeError(`Cannot draw a part: wanted a known word, found "${name}"`);
  return word;
}
