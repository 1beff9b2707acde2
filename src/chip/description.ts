/**
 * The description of a chip as it stands in its text: every section by its shape, quantities not yet evaluated.
 */

import { isMap, type YAMLMap } from "yaml";
import {
  type Fields,
  InputError,
  mapOf,
  type QuantityText,
  quantity,
  type ReadRecord,
  type RecordShape,
  record,
  type TaggedShape,
  type TextProblem,
  text,
  whole,
} from "#base";
import { families } from "#devices";
import { briefShape } from "./sections/brief.ts";
import { dieFields } from "./sections/die.ts";
import { driveFields } from "./sections/drive.ts";
import { materialsShape } from "./sections/materials.ts";
import { processFields } from "./sections/process.ts";
import { readingsShape } from "./sections/readings.ts";
import { surroundingsFields } from "./sections/surroundings.ts";
import { termFields } from "./sections/term.ts";
import { checkVersion, currentVersion } from "./text/migrate.ts";
import { type ParsedText, parseText } from "./text/parse.ts";
import { readRecord } from "./text/read.ts";
import type { Reading } from "./text/reading.ts";

/** One device: its family is the word after "is". */
const deviceShape: TaggedShape = {
  kind: "tagged",
  tag: "is",
  variants: new Map<string, RecordShape>(families.map((family) => [family.name, record(family.fields)])),
};

const parameterShape = quantity("number", { example: "6 um", evidence: "drawn" });

export const chipFields = {
  chip: { shape: text("Leafgate"), about: "Name of the chip." },
  version: {
    shape: whole({ least: 1, most: currentVersion, example: String(currentVersion) }),
    about: "Version of the form of this text.",
  },
  note: { shape: text("Invented demo; nothing was made or measured."), about: "A remark for every reader.", optional: true },
  brief: { shape: briefShape, about: "What must hold.", optional: true },
  surroundings: { shape: record(surroundingsFields), about: "What the chip stands in." },
  materials: { shape: materialsShape, about: "Materials of your own.", optional: true },
  process: { shape: record(processFields), about: "How the chip is made." },
  parameters: {
    shape: mapOf(parameterShape, { names: "a parameter", example: "leg width: 6 um" }),
    about: "Named quantities that others refer to.",
    optional: true,
  },
  devices: { shape: mapOf(deviceShape, { names: "a device", example: "drive: { is: bent-beam pair }" }), about: "What moves." },
  die: { shape: record(dieFields), about: "The die round the devices.", optional: true },
  drive: { shape: record(driveFields), about: "What feeds the chip, and the cases looked at." },
  readings: { shape: readingsShape, about: "What was found on made chips, dated.", optional: true },
  term: { shape: record(termFields), about: "The weeks that the team has, and its plan.", optional: true },
} as const satisfies Fields;

export type Sections = ReadRecord<typeof chipFields>;

export interface Description {
  readonly file: string;
  readonly text: string;
  readonly parsed: ParsedText;
  readonly sections: Sections;
  /** Every quantity of the text, in its order. */
  readonly quantities: readonly QuantityText[];
}

/** Reads a chip text. Throws InputError with every problem found, each with file, line and column. */
export function readDescription(source: string, file: string): Description {
  const migrated = checkVersion(source, file);
  const parsed = parseText(migrated, file);
  const problems: TextProblem[] = [];
  const reading: Reading = { parsed, problems, quantities: [] };
  if (!isMap(parsed.root))
    throw new InputError([{ place: parsed.placeAt(0), message: "A chip text is made of named sections." }]);
  const sections = readRecord(chipFields, parsed.root as YAMLMap, { reading, path: [] });
  if (sections === undefined || problems.length > 0) throw new InputError(sortProblems(problems));
  return { file, text: migrated, parsed, sections, quantities: reading.quantities };
}

/** Problems in the order of the text. */
export function sortProblems(problems: readonly TextProblem[]): readonly TextProblem[] {
  return [...problems].sort((a, b) => a.place.line - b.place.line || a.place.column - b.place.column);
}
