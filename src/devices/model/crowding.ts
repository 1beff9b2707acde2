/**
 * Crowding of current and heat where a beam enters a plate: what a strip that suddenly widens resists beyond its two parts, in squares
 * of the sheet. Both parts are taken as long against their widths, the step as symmetric.
 *
 *   squares = ((1 + a^2)/a ln((1 + a)/(1 - a)) - 2 ln(4a/(1 - a^2))) / (2 pi),   a = narrow/wide
 *
 * Hall, Thin Solid Films 1 (1968) 277 (key hall1968, from memory), exact for two half-infinite strips. Main test: crowding.test.ts.
 */
export function crowdingSquares(narrow: number, wide: number): number {
  const a = narrow / wide;
  // beyond this the difference of the two logarithms is rounding: 1e-8 squares
  if (a >= 1 - 1e-5) return 0;
  return (((1 + a * a) / a) * Math.log((1 + a) / (1 - a)) - 2 * Math.log((4 * a) / (1 - a * a))) / (2 * Math.PI);
}
