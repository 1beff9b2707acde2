export type {
  ConstrainedProblem,
  Minimum,
  MinimumOptions,
  ProblemBounds,
  ProblemValues,
  Search,
} from "./constrained-minimum.ts";
export { bestMinimum, constrainedMinimum, searchBestMinimum, searchMinimum } from "./constrained-minimum.ts";
export type { LdltOutcome } from "./dense-ldlt.ts";
export { factorLdltInto, solveLdltInto } from "./dense-ldlt.ts";
export { factorInPlace, solveInto } from "./dense-lu.ts";
export type { DenseEigenpairs } from "./eigen-dense.ts";
export { findSymmetricEigenpairs } from "./eigen-dense.ts";
export { countEigenvaluesBelow, multiplySkylineInto, shiftSkyline } from "./eigen-skyline.ts";
export type { EigenOptions, Eigenpairs, MassProduct } from "./eigen-sparse.ts";
export { findLowestEigenpairs } from "./eigen-sparse.ts";
export { solveTridiagonalInto } from "./eigen-tridiagonal.ts";
export type { QuadratureRule } from "./gauss-rules.ts";
export {
  barycentricWeights,
  differentiationMatrix,
  gaussLegendreRule,
  gaussLobattoRule,
  lagrangeValuesInto,
} from "./gauss-rules.ts";
export type { ContourLine, GridValues } from "./marching-squares.ts";
export { contourLines } from "./marching-squares.ts";
export type { SkylineMatrix } from "./skyline-ldlt.ts";
export { addToSkyline, createSkyline, factorSkylineInPlace, solveSkylineInto } from "./skyline-ldlt.ts";
export { sobolDimensions, sobolPoints } from "./sobol.ts";
export type { FrontPoint, FrontProblem, TwoAims } from "./trade-off-front.ts";
export { searchFront, tradeOffFront } from "./trade-off-front.ts";
