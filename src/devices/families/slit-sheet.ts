/** Sheets with parallel slits: how their sizes follow from the aperture, the slits, the ribs and the rims. */
import { type Fields, record, type ValueRecord, whole } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import type { SlitField } from "../drawing/part.ts";
import { drawnLength } from "../parts/fields.ts";

export const slitSheetFields = {
  aperture: {
    shape: record({
      width: { shape: drawnLength("1000 um"), about: "Clear length of the slits along x, all lengths in a row together." },
      height: { shape: drawnLength("1000 um"), about: "Along y, a whole number of pitches." },
    } as const satisfies Fields),
    about: "What the slits open.",
  },
  slits: {
    shape: record({
      width: { shape: drawnLength("8 um"), about: "Clear width of a slit, along y." },
      pitch: { shape: drawnLength("20 um"), about: "From one slit to the next." },
      lengths: { shape: whole({ least: 1, most: 100, example: "3" }), about: "Lengths in a row, with ribs between them." },
    } as const satisfies Fields),
    about: "The slits, along x.",
  },
  ribs: {
    shape: record({
      inner: { shape: drawnLength("20 um"), about: "Width of a rib between two lengths.", optional: true },
      outer: { shape: drawnLength("30 um"), about: "Width of the ribs left and right of the slits." },
    } as const satisfies Fields),
    about: "What joins the bars, along y.",
  },
  rim: { shape: drawnLength("40 um"), about: "Between the aperture and the upper and the lower edge." },
} as const satisfies Fields;

export interface SlitSheet {
  /** [m] */
  readonly width: number;
  readonly height: number;
  readonly slits: SlitField;
}

const um = (length: number): string => (length * 1e6).toFixed(2);

export function slitSheetOf(name: string, values: ValueRecord<typeof slitSheetFields>): SlitSheet {
  const { aperture, slits, ribs, rim } = values;
  const pitches = aperture.height / slits.pitch;
  const count = Math.round(pitches);
  // half a unit of the mask grid at each pitch is still a whole number of them
  if (count < 1 || Math.abs(pitches - count) * slits.pitch > 1e-9)
    throw new AssemblyError(
      `the aperture of ${name} is ${um(aperture.height)} um high, but its slits stand every ${um(slits.pitch)} um: wanted a whole number of pitches`,
    );
  if (slits.pitch <= slits.width)
    throw new AssemblyError(`the slits of ${name} run into each other: their pitch must be larger than their width`);
  if (slits.lengths > 1 && ribs.inner === undefined)
    throw new AssemblyError(`${name} has slits of several lengths: they need an inner rib between them, for example 20 um`);
  const rib = ribs.inner ?? 0;
  return {
    width: aperture.width + (slits.lengths - 1) * rib + 2 * ribs.outer,
    height: aperture.height + 2 * rim,
    slits: {
      count,
      width: slits.width,
      pitch: slits.pitch,
      lengths: slits.lengths,
      length: aperture.width / slits.lengths,
      rib,
    },
  };
}
