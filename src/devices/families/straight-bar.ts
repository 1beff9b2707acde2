/** A straight bar between two anchors. */
import type { Fields } from "#base";
import { defineFamily } from "../family.ts";
import { drawnLength } from "../parts/fields.ts";
import { anchorPairFields, deviceFields, drawAnchorPair } from "./common.ts";

export const straightBar = defineFamily({
  name: "straight bar",
  about: "A straight bar between two anchors: the simplest heater, and the measure of a material.",
  fields: {
    length: { shape: drawnLength("500 um"), about: "Length between the anchors." },
    width: { shape: drawnLength("8 um"), about: "Width in the plane." },
    ...anchorPairFields,
    ...deviceFields,
  } as const satisfies Fields,
  draw: (values, draft) => {
    const half = values.length / 2;
    drawAnchorPair(draft, values, { inner: half, middle: 0, extent: values.width });
    draft.add({
      kind: "beam",
      name: "bar",
      isLeg: true,
      line: Float64Array.of(-half, 0, half, 0),
      widths: [values.width, values.width],
      fillet: 0,
      hinged: [false, false],
    });
    return { output: undefined };
  },
});
