/**
 * The word "fixed slits": a sheet of metal on the glass with slits in it. It is drawn as the metal that stays, rows between the slits
 * and columns beside them, which merge to one sheet on the plate.
 */
import { definePart } from "../draft.ts";
import { outlineOfSlab } from "../drawing/slab.ts";
import { slitSheetFields, slitSheetOf } from "./slit-sheet.ts";

export const fixedSlitsPart = definePart({
  name: "fixed slits",
  about: "A sheet of metal on the glass with parallel slits. Its own origin is its middle.",
  placed: true,
  fields: slitSheetFields,
  draw: (values, draft) => {
    const { width, height, slits } = slitSheetOf(draft.name, values);
    const { count, pitch, lengths, length, rib } = slits;
    draft.markPoint("middle", { x: 0, y: 0 });
    const metal = (label: string, box: { x: readonly [number, number]; y: readonly [number, number] }): void =>
      draft.add({
        kind: "metal",
        name: draft.named(label),
        outline: outlineOfSlab({
          centre: { x: (box.x[0] + box.x[1]) / 2, y: (box.y[0] + box.y[1]) / 2 },
          width: box.x[1] - box.x[0],
          height: box.y[1] - box.y[0],
          turn: 0,
        }),
      });
    const [left, bottom] = [-width / 2, -height / 2];
    const slitAt = (i: number): number => (i - (count - 1) / 2) * pitch;
    for (let i = 0; i <= count; i++)
      metal(`row ${i + 1}`, {
        x: [left, -left],
        y: [i === 0 ? bottom : slitAt(i - 1) + slits.width / 2, i === count ? -bottom : slitAt(i) - slits.width / 2],
      });
    const field = lengths * length + (lengths - 1) * rib;
    const startOf = (i: number): number => -field / 2 + i * (length + rib);
    for (let i = 0; i <= lengths; i++)
      metal(`column ${i + 1}`, {
        x: [i === 0 ? left : startOf(i - 1) + length, i === lengths ? -left : startOf(i)],
        y: [bottom, -bottom],
      });
  },
});
