/** Short chip texts for published checks: idealised devices said in the same words that a user has. */
import { type Chip, metricRequest, openChip } from "#chip";

export interface BareChip {
  readonly silicon: string;
  readonly materials?: string;
  readonly device: string;
  readonly cases: string;
  readonly thickness: string;
  readonly temperature?: string;
  readonly process?: string;
  /** Gas and pressure as written; vacuum otherwise. */
  readonly gas?: string;
}

const indent = (text: string, by: number): string =>
  text
    .trim()
    .split("\n")
    .map((line) => " ".repeat(by) + line)
    .join("\n");

/** A chip in vacuum with one device called "one". */
export function bareChip(parts: BareChip): Chip {
  const text = `chip: check
version: 1
surroundings: { ${parts.gas ?? "gas: vacuum"}, temperature: ${parts.temperature ?? "293.15 K"} }
${parts.materials === undefined ? "" : `materials:\n${indent(parts.materials, 2)}`}
process:
  flow: idealised
  silicon thickness: ${parts.thickness}
${parts.process === undefined ? "" : indent(parts.process, 2)}
  silicon:
${indent(parts.silicon, 4)}
devices:
  one:
${indent(parts.device, 4)}
drive:
  cases:
${indent(parts.cases, 4)}
`;
  return openChip(text, { file: "check.yaml" });
}

/** Value of a metric as drawn, [SI]. */
export function metricOf(chip: Chip, word: string, caseName?: string): number {
  return chip.side("drawn").valueOf(metricRequest(chip, word, { caseName })).value;
}

/** The same at a place of the device or for a value. */
export function askMetric(
  chip: Chip,
  word: string,
  at: { readonly caseName?: string; readonly where?: string; readonly argument?: number },
): number {
  return chip.side("drawn").valueOf(metricRequest(chip, word, at)).value;
}

/** A material of constants, without shear where no Poisson ratio is given. */
export function plainMaterial(constants: {
  readonly E: string;
  readonly alpha?: string;
  readonly poisson?: number;
  readonly density?: string;
  readonly k?: string;
  readonly rho?: string;
  readonly c?: string;
}): string {
  const { E, alpha = "3e-6/K", poisson, density, k = "100 W/(m K)", rho = "1e-4 ohm m", c } = constants;
  const line = (name: string, value: string | number | undefined): string => (value === undefined ? "" : `\n  ${name}: ${value}`);
  return `plain:
  conductivity: ${k}
  resistivity: ${rho}
  expansion: ${alpha}
  young modulus: ${E}${line("poisson ratio", poisson)}${line("density", density)}${line("specific heat", c)}`;
}

export const bar = (length: string, width: string, heatLoss = "none"): string => `is: straight bar
length: ${length}
width: ${width}
anchors: ideal
heat loss: ${heatLoss}`;

export interface VeeText {
  readonly length: string;
  readonly width: string;
  readonly tilt: string;
  readonly shuttle?: string;
}

export const vee = ({ length, width, tilt, shuttle = "point" }: VeeText): string => `is: bent-beam pair
legs: { length: ${length}, width: ${width}, tilt: ${tilt} }
shuttle: ${shuttle}
anchors: ideal
heat loss: none`;
