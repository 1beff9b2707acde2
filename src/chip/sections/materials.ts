/** Section "materials": materials of the user's own. A law is a constant, a formula of the temperature T, or a table. */
import { type Fields, law, mapOf, quantity, record, text } from "#base";

export const ownMaterialFields = {
  "based on": { shape: text("silicon"), about: "A built-in material that lends the laws not given here.", optional: true },
  conductivity: { shape: law("thermal conductivity", "120 W/(m K)"), about: "Thermal conductivity.", optional: true },
  resistivity: { shape: law("resistivity", "0.015 ohm cm"), about: "Electrical resistivity.", optional: true },
  expansion: {
    shape: law("expansion coefficient", "2.6 ppm/K"),
    about: "Coefficient of thermal expansion; its integral is taken exactly or by quadrature.",
    optional: true,
  },
  "specific heat": { shape: law("specific heat", "712 J/(kg K)"), about: "Heat capacity per mass.", optional: true },
  density: { shape: law("density", "2329 kg/m^3"), about: "Density.", optional: true },
  "young modulus": { shape: law("pressure", "169 GPa"), about: "Young's modulus along the beams.", optional: true },
  "poisson ratio": {
    shape: quantity("number", { example: "0.22", evidence: "assumed", above: -1, most: 0.5 }),
    about: "Poisson's ratio.",
    optional: true,
  },
} as const satisfies Fields;

export const materialsShape = mapOf(record(ownMaterialFields), {
  names: "a material",
  example: "measured silicon: { conductivity: 120 W/(m K) }",
});
