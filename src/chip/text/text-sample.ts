/** A small set of fields and a valid text of them, on which the tests of this folder stand. */

import type { YAMLMap } from "yaml";
import {
  choice,
  either,
  type Fields,
  InputError,
  law,
  list,
  mapOf,
  quantity,
  type RecordShape,
  record,
  type TextProblem,
  text,
  whole,
} from "#base";
import { parseText } from "./parse.ts";
import { readRecord } from "./read.ts";
import type { Reading } from "./reading.ts";

const length = quantity("length", { example: "6 um", evidence: "drawn", above: 0 });

export const sampleFields = {
  chip: { shape: text("Leafgate"), about: "Name of the chip." },
  version: { shape: whole({ least: 1, most: 1, example: "1" }), about: "Version of the form." },
  note: { shape: text("invented"), about: "A remark.", optional: true },
  mount: { shape: choice("chuck", "package"), about: "What holds the die.", optional: true },
  gas: {
    shape: either(["air", "vacuum"], {
      pressure: { shape: quantity("pressure", { example: "101 kPa", evidence: "assumed" }), about: "Pressure of the gas." },
    }),
    about: "What lies round the die.",
    optional: true,
  },
  process: {
    shape: record({
      "silicon thickness": {
        shape: quantity("length", { example: "40 um ± 1 um", evidence: "assumed" }),
        about: "Thickness of the silicon.",
      },
      temperature: {
        shape: quantity("temperature", { as: "temperature", example: "298 K", evidence: "assumed" }),
        about: "Of the room.",
        optional: true,
      },
      conductivity: { shape: law("thermal conductivity", "120 W/(m K)"), about: "Of the silicon.", optional: true },
    }),
    about: "How the chip is made.",
  },
  parameters: {
    shape: mapOf(quantity("number", { example: "6 um", evidence: "drawn" }), {
      names: "a parameter",
      example: "leg width: 6 um",
    }),
    about: "Named quantities.",
    optional: true,
  },
  points: { shape: list(record({ at: { shape: length, about: "Where." } })), about: "Places.", optional: true },
  devices: {
    shape: mapOf(
      {
        kind: "tagged",
        tag: "is",
        variants: new Map<string, RecordShape>([
          ["bar", record({ width: { shape: length, about: "Width." } })],
          ["plate", record({ side: { shape: length, about: "Side." } })],
        ]),
      },
      { names: "a device", example: "drive: { is: bar }" },
    ),
    about: "What moves.",
    optional: true,
  },
} as const satisfies Fields;

/** Reads a text of the sample fields to the end and gives what was found, with every problem. */
export function readSample(source: string) {
  const parsed = parseText(source, "chip.yaml");
  const problems: TextProblem[] = [];
  const reading: Reading = { parsed, problems, quantities: [] };
  const values = readRecord(sampleFields, parsed.root as YAMLMap, { reading, path: [] });
  return { values, problems, quantities: reading.quantities, parsed };
}

/** The problems of a text as one line each, whether its form or its content is at fault. */
export function problemsOf(source: string): readonly string[] {
  try {
    return readSample(source).problems.map((p) => `${p.place.file}:${p.place.line}:${p.place.column}: ${p.message}`);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.message.split("\n");
  }
}

export const sampleText = `# A chip that was never made
chip: Leafgate        # its name
version: 1
note: "says: nothing, # really"

mount: chuck
gas: { pressure: 101 kPa }

process:
  silicon thickness:   measured 40 um ± 1 um, profilometer, wafer 2, 2026-10-02   # mean of nine
  temperature: 25 °C
  conductivity:
    formula: 1 / (3.0e-4 + 1.56e-5 * T + 1.65e-8 * T^2)
    unit: W/(m K)
    range: 250 K to 1000 K
    source: 'fit of our own data'
    spread: 5 %

parameters:
  leg width: 6 um     # target
  slit pitch: 20 um ± 0.1 um per wafer, shared with plate
  gap: slit pitch / 2 - 2 um
  share: 3 % ± 1 %
  Länge: max(leg width, 2 um)

points:
  - at: 1 um
  - { at: 2 um }
  -
    at: 3 um

devices:
  drive: { is: bar, width: leg width }
  blade:
    is: plate
    side: 'slit pitch * 4'
  far-plate:
    is: plate
    side: 1 mm
`;
