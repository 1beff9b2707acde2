/** What drives the chip in one case, as a sentence whose numbers can be taken hold of. Main test: prose.test.ts. */
import type { Chip } from "../predict/chip.ts";
import { fillSentence, type ProseWord } from "./prose.ts";

const driveSentences: Readonly<Record<string, string>> = {
  pads: "{pads} on the pads",
  supply: "{supply} from the supply[ through {through}]",
  current: "{current} through the pads",
};

/** "10.20 V on the pads", or the rises and strains of a case without drive; empty where nothing drives it. */
export function caseProse(chip: Chip, caseName: string): readonly ProseWord[] {
  const text = chip.description.sections.drive.cases.get(caseName);
  if (text === undefined) throw new RangeError(`Cannot tell a case: there is none called "${caseName}"`);
  const given = Object.keys(driveSentences).find((word) => (text as Readonly<Record<string, unknown>>)[word] !== undefined);
  return given === undefined ? [] : fillSentence(chip, driveSentences[given]!, ["drive", "cases", caseName]);
}
