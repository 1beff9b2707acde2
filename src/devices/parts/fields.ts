/** Fields that several words share. */
import { type Fields, quantity, text } from "#base";

export const drawnLength = (example: string) => quantity("length", { example, evidence: "drawn", above: 0, most: 0.02 });
export const signedLength = (example: string) => quantity("length", { example, evidence: "drawn", least: -0.02, most: 0.02 });
export const drawnAngle = (example: string) => quantity("angle", { example, evidence: "drawn", least: -7, most: 7 });
export const pointName = text("root");

export const sizeFields = {
  width: { shape: drawnLength("24 um"), about: "Size along x." },
  height: { shape: drawnLength("120 um"), about: "Size along y." },
} as const satisfies Fields;

export const turnField = {
  shape: drawnAngle("30 deg"),
  about: "Turned by this angle about its middle, counter-clockwise.",
  optional: true,
} as const;

/** How an anchor lets heat into the glass. */
export const anchorHeatFields = {
  "thermal resistance": {
    shape: quantity("thermal resistance", { example: "300 K/W ± 20 %", evidence: "assumed", above: 0, most: 1e9 }),
    about: "From the anchor through the glass to the heat sink. Left out, it is computed for the glass under it.",
    optional: true,
  },
} as const satisfies Fields;
