export type { LdltOutcome } from "./dense-ldlt.ts";
export { factorLdltInto, solveLdltInto } from "./dense-ldlt.ts";
export type { LuOutcome } from "./dense-lu.ts";
export { factorLuInto, solveLuInto } from "./dense-lu.ts";
export type { QuadratureRule } from "./gauss-rules.ts";
export { barycentricWeights, differentiationMatrix, gaussLegendreRule, gaussLobattoRule, lagrangeValuesInto } from "./gauss-rules.ts";
