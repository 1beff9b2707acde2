/**
 * Coefficients of the standard conversion between dopant density and resistivity at 23 degC, [astm1999], READ second hand in two
 * agreeing implementations. Resistivity in ohm cm and density in 1/cm^3 inside the formulas. Checked in dopant-density.test.ts.
 */

/** Phosphorus, rho from N: numerator A..D and denominator E..G in X = log10 N - 16. */
export const phosphorusResistivity = {
  above: [-3.0769, 2.2108, -0.62272, 0.057501],
  below: [1, -0.68157, 0.19833, -0.018376],
} as const;

/** Phosphorus, N from rho, in x = log10 rho. */
export const phosphorusDensity = {
  above: [-3.1083, -3.2626, -1.2196, -0.13923],
  below: [1, 1.0265, 0.38755, 0.041833],
} as const;

/** Arsenic, log10 rho as a polynomial in log10 N. */
export const arsenicResistivity: readonly number[] = [
  -6633.667, 768.2531, -25.77373, 0.9658177, -0.05643443, -8.008543e-4, 9.055838e-5, -1.776701e-6, 1.953279e-7, -5.754599e-9,
  -1.31657e-11,
];

/** Densities [1/cm^3] and resistivities [ohm cm] over which the fits hold. */
export const dopantRanges = {
  boron: { density: [1e12, 1e21], resistivity: [1e-4, 1e4] },
  phosphorus: { density: [1e12, 5e20], resistivity: [1e-4, 1e4] },
  arsenic: { density: [1e19, 6e20], resistivity: [1e-4, 1e4] },
} as const;
