/**
 * Coefficients of a five-stage diagonally implicit Runge-Kutta method of order 4, L-stable, with an embedded answer of order 3:
 * Hairer & Wanner, Solving Ordinary Differential Equations II, table IV.6.5 (key hairer1996, from memory).
 * Check: its order conditions, transient.test.ts.
 */

export const gamma = 0.25;
/** Coefficients of the stages, the last row being the answer itself. */
export const stageCoefficients: readonly (readonly number[])[] = [
  [1 / 4],
  [1 / 2, 1 / 4],
  [17 / 50, -1 / 25, 1 / 4],
  [371 / 1360, -137 / 2720, 15 / 544, 1 / 4],
  [25 / 24, -49 / 48, 125 / 16, -85 / 12, 1 / 4],
];
export const embeddedWeights: readonly number[] = [59 / 48, -17 / 96, 225 / 32, -85 / 12, 0];
/** Moments of the stages as parts of the step. */
export const stageMoments: readonly number[] = stageCoefficients.map((row) => row.reduce((sum, a) => sum + a, 0));

/** Per stage: weights by which the beginning of the step and the stages before foretell it, the polynomial through all of them. */
export const foretelling: readonly (readonly number[])[] = stageMoments.map((moment, stage) => {
  const known = [0, ...stageMoments.slice(0, stage)];
  return known.map((own, i) =>
    known.reduce((product, other, j) => (i === j ? product : (product * (moment - other)) / (own - other)), 1),
  );
});
