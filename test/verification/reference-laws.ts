/** Material and film of the plane finite-element references (invented round devices), in the words of the chip text. */

/** Air over 10 um, lost from the underside: power law fitted to a table of handbooks (from memory), at the mean of wall and ground. */
export const film =
  "{ film: { formula: 0.0263 * ((T + 293.15) / 600)^0.8 / 10e-6, unit: W/(m^2 K), range: 250 K to 1000 K, source: power law of air over 10 um } }";

/** Constant laws, or laws of the temperature; `expansion` scales the free strain alone: a thousandth gives the linear motion. */
export function referenceMaterial(laws: "constant" | "varying", expansion = 1): string {
  const common = `young modulus: 169 GPa
  poisson ratio: 0.22
  density: 2330 kg/m^3`;
  return laws === "constant"
    ? `given:
  conductivity: 120 W/(m K)
  resistivity: 1.5e-4 ohm m
  expansion: ${3e-6 * expansion}/K
  specific heat: 712 J/(kg K)
  ${common}`
    : `given:
  conductivity: { formula: 1 / (3.0e-4 + 1.56e-5 * T + 1.65e-8 * T^2), unit: W/(m K), range: 250 K to 1000 K, source: textbook fit }
  resistivity: { formula: 1.5e-4 * (1 + 1e-3 * (T - 293.15)), unit: ohm m, range: 250 K to 1000 K, source: round numbers }
  expansion: { formula: ${expansion} * (3.725e-6 * (1 - exp(0 - 5.88e-3 * (T - 124))) + 5.548e-10 * T), unit: 1/K, range: 120 K to 1500 K, source: Okada and Tokumaru 1984 }
  specific heat: { formula: (22.81719 + 3.89951e-3 * T - 8.2885e-8 * T^2 + 4.2111e-11 * T^3 - 3.54063e5 / T^2) / 0.0280855, unit: J/(kg K), range: 250 K to 1500 K, source: NIST-JANAF form }
  ${common}`;
}
