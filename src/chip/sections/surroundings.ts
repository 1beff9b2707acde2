/** Section "surroundings": what the chip stands in. */
import { choice, type Fields, quantity } from "#base";

export const gasNames = ["air", "nitrogen", "helium", "argon", "vacuum"] as const;

export const surroundingsFields = {
  gas: { shape: choice(...gasNames), about: "Gas round the moving parts. Vacuum means no gas loss at all." },
  pressure: {
    shape: quantity("pressure", { example: "101 kPa", evidence: "assumed", above: 0, most: 1e6 }),
    about: "Pressure of the gas. Not needed in vacuum.",
    optional: true,
  },
  temperature: {
    shape: quantity("temperature", { as: "temperature", example: "298 K", evidence: "assumed", least: 200, most: 500 }),
    about: "Temperature of the surroundings and of the heat sink under the glass.",
  },
  mount: {
    shape: choice("chuck", "package", "free"),
    about: "What the glass stands on: a chuck keeps its base at the temperature of the surroundings.",
    optional: true,
  },
  "base film": {
    shape: quantity("film coefficient", { example: "500 W/(m^2 K)", evidence: "assumed", above: 0, most: 1e6 }),
    about: "Heat that the base of the glass loses per area and kelvin, where it does not stand on a chuck.",
    optional: true,
  },
  "gas heat factor": {
    shape: quantity("number", { example: "1 ± 8 %", evidence: "assumed", above: 0, most: 10 }),
    about: "Factor on the computed heat loss to the gas: 1 with its doubt, or what a fit to measurements found.",
    optional: true,
  },
} as const satisfies Fields;
