/**
 * A serpentine flexure: spans across the way out, joined by short links along it.
 *
 *            .---.   .---.                pitch: from one span to the next
 *      ------'   |   |   '------ island   span: full height, from bend to bend
 *                '---'                    three full spans here lie between two half ones
 */
import { type Fields, whole } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import { type Draft, definePart } from "../draft.ts";
import type { Place } from "../drawing/part.ts";
import { drawnLength } from "../parts/fields.ts";
import { drawFlexureBeam, drawIsland, flexureFields, islandSize, nameOf, requireRoot } from "./island.ts";

/** Bends of the middle line from the root to the island, with a half span first and last. */
export function serpentineBends(at: { readonly meanders: number; readonly span: number; readonly pitch: number }): Place[] {
  const { meanders, span, pitch } = at;
  const bends: Place[] = [
    { x: 0, y: 0 },
    { x: pitch, y: 0 },
  ];
  for (let i = 0; i <= meanders; i++) {
    const y = ((i % 2 === 0 ? 1 : -1) * span) / 2;
    bends.push({ x: (i + 1) * pitch, y }, { x: (i + 2) * pitch, y });
  }
  const x = (meanders + 2) * pitch;
  bends.push({ x, y: 0 }, { x: x + pitch, y: 0 });
  return bends;
}

function drawBends(draft: Draft, bends: readonly Place[], at: { span: number; link: number; fillet: number }): void {
  let [spans, links] = [0, 0];
  bends.slice(1).forEach((to, i) => {
    const from = bends[i]!;
    const isSpan = from.x === to.x;
    const label = isSpan ? `span ${++spans}` : `link ${++links}`;
    drawFlexureBeam(draft, label, { from, to, width: isSpan ? at.span : at.link, fillet: at.fillet });
  });
}

export const serpentinePart = definePart({
  name: "serpentine",
  about:
    "A flexure that winds to and fro, soft along its way. Its own origin lies on the edge of what moves, and its own x axis points out to the island.",
  placed: true,
  fields: {
    meanders: {
      shape: whole({ least: 1, most: 200, example: "4" }),
      about: "Full spans from side to side, between a half span at each end.",
    },
    span: { shape: drawnLength("120 um"), about: "Length of a full span, from middle line to middle line." },
    pitch: { shape: drawnLength("16 um"), about: "From one span to the next, and the length of the links." },
    width: { shape: drawnLength("4 um"), about: "Width of the spans." },
    "link width": { shape: drawnLength("6 um"), about: "Width of the links. Left out: the same.", optional: true },
    ...flexureFields,
  } as const satisfies Fields,
  draw: (values, draft) => {
    const { span, pitch, width } = values;
    const name = nameOf(draft, "serpentine");
    const link = values["link width"] ?? width;
    const fillet = values.fillet ?? 0;
    if (pitch <= width)
      throw new AssemblyError(`the spans of ${name} run into each other: their pitch must be larger than their width`);
    if (span <= 2 * link)
      throw new AssemblyError(`the links of ${name} run into each other: its span must be more than twice their width`);
    const size = islandSize(values.island, link);
    requireRoot(name, { side: size.height, beamWidth: link, fillet });
    const bends = serpentineBends(values);
    const end = bends[bends.length - 1]!;
    draft.markPoint("root", bends[0]!);
    drawBends(draft, bends, { span: width, link, fillet });
    drawIsland(draft, values, { centre: { x: end.x + size.width / 2, y: 0 }, end, beamWidth: link });
  },
});
