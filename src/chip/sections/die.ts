/** Section "die": the piece of wafer that one chip occupies, and what is drawn round the devices. */
import { type Fields, mapOf, quantity, record, text } from "#base";

const size = (example: string) => quantity("length", { example, evidence: "drawn", above: 0, most: 0.2 });

const rectangle = record({
  width: { shape: size("5 mm"), about: "Size along x." },
  height: { shape: size("5 mm"), about: "Size along y." },
} as const satisfies Fields);

const offset = (about: string) => ({
  shape: quantity("length", { example: "0 mm", evidence: "drawn" as const, least: -0.1, most: 0.1 }),
  about,
});

const placeFields = {
  x: offset("Middle of the device to the right of the middle of the die."),
  y: offset("Middle of the device above the middle of the die."),
} as const satisfies Fields;

export const dieFields = {
  size: { shape: rectangle, about: "Size of the die without the street." },
  street: { shape: size("200 um"), about: "Width of the lane in which the wafer is parted.", optional: true },
  frame: { shape: size("200 um"), about: "Width of the silicon frame along the edge of the die.", optional: true },
  places: {
    shape: mapOf(record(placeFields), { names: "a device", example: "drive: { x: 0 mm, y: 1 mm }" }),
    about: "Where each device stands on the die; a single device stands in the middle.",
    optional: true,
  },
  title: { shape: text("LEAFGATE R1"), about: "Text in the metal of the die: what it is, and which revision.", optional: true },
  "title height": { shape: size("120 um"), about: "Height of the capital letters of the title.", optional: true },
} as const satisfies Fields;
