/** Not a shape of its own: says which beams stand side by side, so that their gas loss can be worked out together. */
import type { Part } from "../assembly.ts";

export interface GasSectionOptions {
  /** Target places across the beams and target widths, [m]; names of the beams at each place. */
  readonly rows: readonly { readonly position: number; readonly width: number; readonly beams: readonly string[] }[];
  /** Target clear distance to cold silicon beside the outermost beams, [m]. */
  readonly wallDistance: number | undefined;
  /** Idealised: each beam loses heat as if it stood alone. */
  readonly apart: boolean;
}

export function gasSection(name: string, options: GasSectionOptions): Part {
  return {
    name: `gas round the ${name}`,
    outlines: () => [],
    addToFrame: (frame) => {
      const rows = options.rows.map((row) => ({
        position: row.position,
        width: frame.lineWidth(row.width, name),
        beams: row.beams.map((beam) => frame.beam(beam)),
      }));
      // an opening grows by the edge loss on both of its sides
      const wallDistance = options.wallDistance === undefined ? undefined : options.wallDistance + 2 * frame.sizes.inward;
      if (options.apart)
        for (const row of rows) frame.addCrossSection({ rows: [{ ...row, position: 0 }], wallDistance: undefined });
      else frame.addCrossSection({ rows, wallDistance });
    },
  };
}
