/**
 * Tells when a law is asked for a temperature that its data do not reach. Laws themselves never refuse; this is where it is said.
 */

import type { Finding, Law } from "#base";

/** Up to this fraction beyond the limit the finding is a warning, above an error. Common practice, no source. */
const tolerated = 0.15;

const quantityOfUnit: Readonly<Record<string, string>> = {
  "W/(m K)": "thermal conductivity",
  "ohm m": "resistivity",
  "1/K": "thermal expansion",
  "J/(kg K)": "specific heat",
  "kg/m^3": "density",
  Pa: "modulus or stress",
  "Pa s": "viscosity",
  "1": "pure number",
};

/** A finding where temperature `T` [K] lies outside the range of the law, otherwise undefined. `where` names the part and its state. */
export function checkLawRange(law: Law, T: number, where: string): Finding | undefined {
  const { from, to } = law.range;
  if (T >= from && T <= to) return undefined;
  const limit = T < from ? from : to;
  const isFar = !(T >= from * (1 - tolerated) && T <= to * (1 + tolerated));
  const quantity = quantityOfUnit[law.unit] ?? `quantity in ${law.unit}`;
  return {
    code: "outside-law-range",
    severity: isFar ? "error" : "warning",
    where,
    message:
      `Cannot vouch for the ${quantity}: wanted a temperature of ${from} to ${to} K, found ${Number(T.toPrecision(5))} K. ` +
      `Give a measured law that reaches further, or keep the part ${T < from ? "warmer" : "cooler"}.`,
    measured: T,
    limit,
    unit: "K",
    source: law.source.note === undefined ? law.source.key : `${law.source.key} (${law.source.consulted}; ${law.source.note})`,
  };
}
