/**
 * Tables of single-crystal silicon. Sources stand beside each table; checked in silicon.test.ts.
 */

/** Thermal conductivity [W/(m K)] against temperature [K], smoothed table of [glassbrenner1964], READ second hand. About 5 %, 10 % above 1000 K. */
export const siliconConductivityTable = {
  temperatures: [100, 150, 200, 250, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200, 1300, 1400, 1500, 1600, 1681],
  values: [950, 420, 266, 195, 156, 105, 80, 64, 52, 43, 35.6, 31, 28, 26.1, 24.8, 23.7, 22.7, 21.9, 21.6],
} as const;

/**
 * Factor on the conductivity at 300 K against dopant concentration [1/m^3], FROM MEMORY of measurements such as [asheghi2002],
 * not sure (15 %). The first row, no effect at 1e17 cm^-3, closes the table and is a guess.
 */
export const siliconDopingFactorRows: readonly (readonly [concentration: number, factor: number])[] = [
  [1e23, 1],
  [1e24, 0.95],
  [1e25, 0.75],
  [5e25, 0.6],
  [1e26, 0.5],
  [3e26, 0.4],
];

/** Stiffness at 298.15 K [Pa] of [hopcroft2010], FROM MEMORY; temperature coefficients of [bourgeois1997] as tabulated there, FROM MEMORY. */
export const siliconStiffnessAt298 = { c11: 165.6e9, c12: 63.9e9, c44: 79.5e9 };

/** First [1/K] and second [1/K^2] coefficients: p = boron 4 ohm cm, n = phosphorus 0.05 ohm cm. */
export const siliconStiffnessCoefficients = {
  p: { first: [-73.25e-6, -91.59e-6, -60.14e-6], second: [-49.26e-9, -32.7e-9, -51.28e-9] },
  n: { first: [-74.87e-6, -99.46e-6, -57.96e-6], second: [-45.14e-9, -20.59e-9, -53.95e-9] },
} as const;
