/** Section "drive": the supply and its limits, and the operating cases at which the chip is looked at. */
import { choice, type Fields, list, mapOf, quantity, record, text, whole } from "#base";
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

const force = (example: string) => quantity("force", { example, evidence: "assumed", least: -1, most: 1 });

const forceFields = {
  x: { shape: force("10 uN"), about: "Along x.", optional: true },
  y: { shape: force("10 uN"), about: "Along y.", optional: true },
  turn: {
    shape: quantity("energy", { example: "1 nN m", evidence: "assumed", least: -1, most: 1 }),
    about: "Moment, counter-clockwise.",
    optional: true,
  },
} as const satisfies Fields;

const way = quantity("length", { example: "0 um", evidence: "assumed", least: -0.01, most: 0.01 });

const heldFields = {
  x: { shape: way, about: "Held at this motion along x.", optional: true },
  y: { shape: way, about: "Held at this motion along y.", optional: true },
  turn: {
    shape: quantity("angle", { example: "0 deg", evidence: "assumed", least: -7, most: 7 }),
    about: "Held at this turn, counter-clockwise.",
    optional: true,
  },
} as const satisfies Fields;

const pull = quantity("acceleration", { example: "500 gn", evidence: "assumed", least: -1e6, most: 1e6 });

const accelerationFields = {
  x: { shape: pull, about: "Along x.", optional: true },
  y: { shape: pull, about: "Along y.", optional: true },
} as const satisfies Fields;

const followFields = {
  state: {
    shape: whole({ least: 1, most: 100, example: "2" }),
    about: "A state of balance under the whole case, 1 for the first that the way from rest and its branches meet.",
    optional: true,
  },
  "turning point": {
    shape: whole({ least: 1, most: 20, example: "1" }),
    about:
      "A state where the device buckles or snaps, 1 for the first on the way; the load factor says how much of the case is there.",
    optional: true,
  },
} as const satisfies Fields;

const stepFields = {
  for: {
    shape: quantity("time", { example: "3 ms", evidence: "assumed", above: 0, most: 1e5 }),
    about: "How long it lasts.",
  },
  pads: { shape: voltage("10.2 V"), about: "Voltage held at the pads.", optional: true },
  supply: { shape: voltage("12 V"), about: "Voltage of the supply, before its series resistor.", optional: true },
  through: { shape: resistance("36 ohm"), about: "Series resistor in this step.", optional: true },
  current: {
    shape: quantity("current", { example: "10 mA", evidence: "assumed", least: -100, most: 100 }),
    about: "Current held through the device.",
    optional: true,
  },
} as const satisfies Fields;

export const caseFields = {
  steps: {
    shape: list(record(stepFields)),
    about: "A run from cold, one step after the other, in place of a steady drive. A step without a drive is switched off.",
    optional: true,
  },
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
  "part rises": {
    shape: mapOf(quantity("temperature", { as: "rise", example: "400 K", evidence: "assumed", least: -250, most: 1400 }), {
      names: "a part",
      example: "hot arm: 400 K",
      chosenElsewhere: true,
    }),
    about: "Idealised, beside uniform rise: parts that are warmed by another amount, by name.",
    optional: true,
  },
  "part strains": {
    shape: mapOf(quantity("number", { example: "6e-4", evidence: "assumed", least: -0.01, most: 0.01 }), {
      names: "a part",
      example: "leg 1 left: 6e-4",
      chosenElsewhere: true,
    }),
    about: "Idealised, beside uniform strain: parts that want another strain, by name.",
    optional: true,
  },
  potentials: {
    shape: mapOf(voltage("5 V"), { names: "a net", example: "blade: 0 V" }),
    about: "Potentials of further nets against minus. A net that is not named floats.",
    optional: true,
  },
  forces: {
    shape: mapOf(record(forceFields), { names: "a point", example: "tip: { y: 10 uN }" }),
    about: "Forces on named points of the device.",
    optional: true,
  },
  held: {
    shape: mapOf(record(heldFields), { names: "a point", example: "tip: { y: 0 um }" }),
    about: "Named points held at so much motion from where they were drawn.",
    optional: true,
  },
  acceleration: {
    shape: record(accelerationFields),
    about: "Steady acceleration of the die in its plane; every mass pulls against it.",
    optional: true,
  },
  "apex load": {
    shape: quantity("force", { example: "1 mN", evidence: "assumed", least: -1, most: 1 }),
    about: "Force against the travel, on the shuttle.",
    optional: true,
  },
  follow: {
    shape: record(followFields),
    about: "State of balance to look at, stable or not, where it is not the one that the case comes to by itself.",
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
