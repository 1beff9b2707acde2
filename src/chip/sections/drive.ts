/** Section "drive": the supply and its limits, and the operating cases at which the chip is looked at. */
import { choice, type Fields, mapOf, quantity, record, text } from "#base";
import { gasNames } from "./surroundings.ts";

const voltage = (example: string) => quantity("voltage", { example, evidence: "assumed", least: -1000, most: 1000 });
const resistance = (example: string) => quantity("resistance", { example, evidence: "assumed", least: 0, most: 1e9 });

export const supplyFields = {
  limit: {
    shape: quantity("voltage", { example: "12 V", evidence: "assumed", above: 0, most: 1000 }),
    about: "Highest voltage the supply gives.",
    optional: true,
  },
  "limit current": {
    shape: quantity("current", { example: "100 mA", evidence: "assumed", above: 0, most: 100 }),
    about: "Current at which the supply stops rising.",
    optional: true,
  },
  "series resistor": {
    shape: resistance("36 ohm"),
    about: "Resistor between the supply and the pads, unless a case says otherwise.",
    optional: true,
  },
} as const satisfies Fields;

export const caseFields = {
  device: { shape: text("drive"), about: "Which device; needed only where there are several.", optional: true },
  pads: { shape: voltage("10.2 V"), about: "Voltage held at the pads.", optional: true },
  supply: { shape: voltage("12 V"), about: "Voltage of the supply, before its series resistor.", optional: true },
  through: { shape: resistance("36 ohm"), about: "Series resistor in this case, in place of the supply's own.", optional: true },
  current: {
    shape: quantity("current", { example: "10 mA", evidence: "assumed", least: -100, most: 100 }),
    about: "Current held through the device.",
    optional: true,
  },
  "uniform rise": {
    shape: quantity("temperature", { as: "rise", example: "200 K", evidence: "assumed", least: -250, most: 1400 }),
    about: "Idealised: all beams are warmed by this much, without any current.",
    optional: true,
  },
  "uniform strain": {
    shape: quantity("number", { example: "6e-4", evidence: "assumed", least: -0.01, most: 0.01 }),
    about: "Idealised: all legs want to lengthen by this strain.",
    optional: true,
  },
  "apex load": {
    shape: quantity("force", { example: "1 mN", evidence: "assumed", least: -1, most: 1 }),
    about: "Force against the travel, on the shuttle.",
    optional: true,
  },
  gas: { shape: choice(...gasNames), about: "Gas in this case, in place of the surroundings'.", optional: true },
  temperature: {
    shape: quantity("temperature", { as: "temperature", example: "313 K", evidence: "assumed", least: 200, most: 500 }),
    about: "Temperature of the surroundings in this case.",
    optional: true,
  },
} as const satisfies Fields;

export const driveFields = {
  supply: { shape: record(supplyFields), about: "What feeds the chip.", optional: true },
  cases: {
    shape: mapOf(record(caseFields), { names: "an operating case", example: "hold: { pads: 10.2 V }" }),
    about: "Named operating cases.",
  },
} as const satisfies Fields;
