/** Section "process": how the chip is made, with the sizes and values that come from making it. */
import { choice, type Fields, law, quantity, record, text } from "#base";

const factor = (example: string) => quantity("number", { example, evidence: "assumed", above: 0, most: 10 });

export const siliconFields = {
  material: {
    shape: text("measured silicon"),
    about: "A material of the section materials, or a built-in one, instead of doped silicon.",
    optional: true,
  },
  dopant: { shape: choice("boron", "phosphorus", "arsenic"), about: "What dopes the silicon.", optional: true },
  resistivity: {
    shape: quantity("resistivity", { example: "0.0150 ohm cm ± 3 %", evidence: "assumed", above: 0, most: 1 }),
    about: "Resistivity at 300 K. Gives the dopant concentration, and with it how the resistivity moves with temperature.",
    optional: true,
  },
  concentration: {
    shape: quantity("concentration", { example: "5e18 cm^-3", evidence: "assumed", least: 1e18, most: 1e27 }),
    about: "Dopant concentration, instead of the resistivity.",
    optional: true,
  },
  "wafer plane": { shape: choice("(100)", "(111)"), about: "Crystal plane of the wafer.", optional: true },
  "long axis": {
    shape: choice("<110>", "<100>"),
    about: "Crystal direction of the x axis of the die. Beams at a tilt get the stiffness of their own direction.",
    optional: true,
  },
  conductivity: {
    shape: law("thermal conductivity", "120 W/(m K)"),
    about: "Your own law of the thermal conductivity, in place of the published one.",
    optional: true,
  },
  "conductivity factor": { shape: factor("1 ± 10 %"), about: "Factor on the published thermal conductivity.", optional: true },
  "expansion factor": { shape: factor("1 ± 2 %"), about: "Factor on the published thermal expansion.", optional: true },
  "stiffness factor": { shape: factor("1 ± 1 %"), about: "Factor on the published elastic stiffness.", optional: true },
  strength: {
    shape: quantity("pressure", { example: "1.2 GPa", evidence: "assumed", above: 0 }),
    about: "Stress at which 63 % of the beam roots break (Weibull scale).",
    optional: true,
  },
  "notch factor": {
    shape: quantity("number", { example: "1.4", evidence: "assumed", least: 1, most: 10 }),
    about: "Factor on the stress at beam roots for the sharpness of their corners. Left out: 1.",
    optional: true,
  },
  emissivity: {
    shape: quantity("number", { example: "0.6", evidence: "assumed", least: 0, most: 1 }),
    about: "Share of black-body radiation of the free silicon. Left out, no radiation is counted.",
    optional: true,
  },
  "strength spread": {
    shape: quantity("number", { example: "5", evidence: "assumed", above: 0.5, most: 100 }),
    about: "Weibull modulus of the strength: the larger, the narrower.",
    optional: true,
  },
} as const satisfies Fields;

export const glassFields = {
  material: { shape: text("borosilicate glass 3.3"), about: "A built-in material, or one of your own." },
  thickness: {
    shape: quantity("length", { example: "0.5 mm", evidence: "assumed", above: 0, most: 0.01 }),
    about: "Its thickness.",
  },
} as const satisfies Fields;

export const flowNames = [
  "silicon on glass, three plates",
  "silicon on glass, two plates",
  "silicon on insulator",
  "idealised",
] as const;

export const processFields = {
  flow: { shape: choice(...flowNames), about: "The way of making. Decides which plates there are." },
  "silicon thickness": {
    shape: quantity("length", { example: "40 um ± 1 um", evidence: "assumed", above: 0, most: 1e-3 }),
    about: "Thickness of the silicon.",
  },
  "gap under silicon": {
    shape: quantity("length", { example: "7 um ± 0.35 um", evidence: "assumed", above: 0, most: 1e-3 }),
    about: "Free height under the moving silicon. Not needed where nothing is lost to gas.",
    optional: true,
  },
  "undercut per edge": {
    shape: quantity("length", {
      example: "assumed 0.5 um ± 0.15 um, default of this etch",
      evidence: "assumed",
      least: -5e-6,
      most: 2e-5,
    }),
    about: "How far the etch goes in under each edge of the resist.",
    optional: true,
  },
  "bias per edge": {
    shape: quantity("length", { example: "0.5 um", evidence: "drawn", least: -2e-5, most: 2e-5 }),
    about: "How far each silicon edge is moved out on the plate, once, to make up for the undercut.",
    optional: true,
  },
  "recess margin": {
    shape: quantity("length", { example: "8 um", evidence: "drawn", least: 0, most: 1e-3 }),
    about: "How far the recess reaches beyond the free silicon.",
    optional: true,
  },
  "recess undercut per edge": {
    shape: quantity("length", { example: "8.4 um", evidence: "assumed", least: 0, most: 1e-3 }),
    about: "How far the recess etch goes in under each edge of its resist. The opening on the plate is narrower by this, once.",
    optional: true,
  },
  "bond strain": {
    shape: quantity("number", { example: "20 ppm ± 70 ppm", evidence: "assumed", least: -5e-3, most: 5e-3 }),
    about: "Strain that bonding leaves in the silicon at the surroundings' temperature. Positive is tension.",
    optional: true,
  },
  glass: { shape: record(glassFields), about: "The glass under the anchors.", optional: true },
  silicon: { shape: record(siliconFields), about: "The silicon of the moving parts." },
} as const satisfies Fields;
