/** What a picture or a plot shows, as CSV, all in the units of its heading. Main test: tables.test.ts. */
import { csvOf } from "#base";
import type { DeviceView } from "#devices";
import type { CurvePlot } from "#workbench";

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
  const lines = rows.map(([part, x, y, temperature]) => `"${part.replaceAll('"', '""')}",${x},${y},${temperature}`);
  return `part,x (m),y (m),temperature (K)\n${lines.join("\n")}\n`;
}

/** The lines of a plot one after the other, since each has steps of its own. */
export function tableOfPlot(plot: CurvePlot): string {
  const heads = [`${plot.x.name} (${plot.x.unit})`, `${plot.y.name} (${plot.y.unit})`];
  return plot.curves.map(({ kind, x, y }) => csvOf([`${heads[0]!}, ${kind}`, `${heads[1]!}, ${kind}`], [x, y])).join("\n");
}
