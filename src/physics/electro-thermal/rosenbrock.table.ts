/**
 * Coefficients of a linearly implicit method of order 4 with an embedded answer of order 3, stiffly accurate, made for parabolic problems
 * and for equations without rates beside them: RODASP, G. Steinebach (1995), in the transformed form of Hairer & Wanner, Solving
 * Ordinary Differential Equations II, section IV.7 (key hairer1996, from memory).
 * Check: order on a stiff equation with a known answer, rosenbrock-step.test.ts.
 */

export const gamma = 0.25;

/** Stages before that make the place of each stage; the last stage stands where the embedded answer does. */
export const stagePlaces: readonly (readonly number[])[] = [
  [],
  [3],
  [1.831036793486759, 0.4955183967433795],
  [2.304376582692669, -0.05249275245743001, -1.176798761832782],
  [-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401],
  [-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401, 1],
];

/** Stages before that stand on the right-hand side of each stage, over the step. */
export const stageSources: readonly (readonly number[])[] = [
  [],
  [-12],
  [-8.791795173947035, -2.207865586973518],
  [10.81793056857153, 6.780270611428266, 19.5348594464241],
  [34.19095006749676, 15.49671153725963, 54.7476087596413, 14.16005392148534],
  [34.62605830930532, 15.30084976114473, 56.99955578662667, 18.40807009793095, -5.714285714285717],
];

/**
 * Inside a step, at the part s of it: (1 - s) y0 + s (y1 + (1 - s) (b + s c)), b and c made of the stages by these weights; of order 3.
 */
export const denseFirst: readonly number[] = [25.09876703708589, 11.62013104361867, 28.49148307714626, -5.664021568594133, 0];
export const denseSecond: readonly number[] = [
  1.638054557396973, -0.7373619806678748, 8.47791821923899, 15.9925314877952, -1.882352941176471,
];
