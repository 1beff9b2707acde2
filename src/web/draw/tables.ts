/** What a picture or a plot shows, as CSV, all in the units of its heading. Main test: tables.test.ts. */
import { csvOf } from "#base";
import type { DeviceView, ModeView } from "#devices";
import type { CurvePlot } from "#workbench";

const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

/** Each piece of each beam and each station of each body: where it is now and how warm. */
export function tableOfView(view: DeviceView): string {
  const rows: (readonly [part: string, x: number, y: number, temperature: number])[] = [
    ...view.bodies.flatMap(({ name, field: { from, to, shares, temperatures } }) =>
      [...shares].map(
        (share, i) => [name, from.x + share * (to.x - from.x), from.y + share * (to.y - from.y), temperatures[i]!] as const,
      ),
    ),
    ...view.beams.flatMap(({ name, line, temperatures }) =>
      [...temperatures].map(
        (value, i) => [name, (line[2 * i]! + line[2 * i + 2]!) / 2, (line[2 * i + 1]! + line[2 * i + 3]!) / 2, value] as const,
      ),
    ),
  ];
  const lines = rows.map(([part, x, y, temperature]) => `${quoted(part)},${x},${y},${temperature}`);
  return `part,x (m),y (m),temperature (K)\n${lines.join("\n")}\n`;
}

/** Each point of each outline of a mode: where it rests and how it moves, for a largest motion of 1. */
export function tableOfMode({ largest, beams, bodies }: ModeView): string {
  const lines = [...bodies.flatMap(({ name, outlines }) => outlines.map((line) => ({ name, ...line }))), ...beams].flatMap(
    ({ name, points, moves, lifts }) =>
      [...lifts].map((lift, i) => {
        const [x, y] = [points[2 * i]!, points[2 * i + 1]!];
        const moved = [moves[2 * i]!, moves[2 * i + 1]!, lift].map((motion) => motion / largest);
        return `${quoted(name)},${x},${y},${moved.join(",")}`;
      }),
  );
  return `part,x (m),y (m),motion x,motion y,motion z\n${lines.join("\n")}\n`;
}

/** The lines of a plot one after the other, since each has steps of its own. */
export function tableOfPlot(plot: CurvePlot): string {
  const heads = [`${plot.x.name} (${plot.x.unit})`, `${plot.y.name} (${plot.y.unit})`];
  return plot.curves.map(({ kind, x, y }) => csvOf([`${heads[0]!}, ${kind}`, `${heads[1]!}, ${kind}`], [x, y])).join("\n");
}
