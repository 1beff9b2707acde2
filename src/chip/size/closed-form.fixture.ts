/**
 * A chip whose metrics are formulas written in its own text: two springs carry a small plate, and their stiffness is worked out from the
 * parameters. What a study finds over the parameters can then be held against plain arithmetic.
 */
import { type Chip, openChip } from "../predict/chip.ts";

export interface ClosedForm {
  /** Lines of the parameters, for example ["a: drawn 2", "b: drawn 1 ± 0.1"]. */
  readonly parameters: readonly string[];
  /** Stiffness along x and along y of the plate [N/m], as sums of the text over the parameters. */
  readonly x: string;
  readonly y: string;
  /** Requirements: the metric's axis and the need, for example ["x", "at most 25 N/m"]. */
  readonly needs: readonly (readonly ["x" | "y", string])[];
}

export function closedFormText({ parameters, x, y, needs }: ClosedForm): string {
  return `chip: closed form
version: 1
brief:${needs.length === 0 ? " []" : ""}
${needs
  .map(
    ([axis, need], k) => `  - name: limit ${k + 1}
    need: ${need}
    of: stiffness along ${axis}
    where: middle
    at: cold`,
  )
  .join("\n")}
surroundings: { gas: vacuum, temperature: 298 K }
process:
  flow: idealised
  silicon thickness: 40 um
  silicon: { dopant: boron, resistivity: 0.015 ohm cm }
parameters:
${parameters.map((line) => `  ${line}`).join("\n")}
devices:
  one:
    is: composition
    points: { middle: { x: 0 um, y: 0 um } }
    parts:
      mass: { is: plate, at: middle, width: 100 um, height: 100 um }
      coil: { is: spring, at: middle, x: (${x}) * 1 N/m, y: (${y}) * 1 N/m }
      hold: { is: support, at: middle, holds: [turn, z] }
    output: { point: middle, direction: 90 deg }
    heat loss: none
drive: { cases: { cold: { uniform rise: 0 K } } }
`;
}

export function closedFormChip(form: ClosedForm): Chip {
  return openChip(closedFormText(form), { file: "closed-form.yaml" });
}
