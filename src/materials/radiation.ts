/**
 * Radiation of a small grey body to large surroundings. Below 2 % of the gas loss over a 10 um gap in air; matters in vacuum on long
 * legs only, which [colbert2017] (READ as abstract) also found. Main test: gas.test.ts.
 */

/** Stefan-Boltzmann constant [W/(m^2 K^4)], exact since 2019. */
export const stefanBoltzmann = 5.670374419e-8;

/** Power per area [W/m^2] lost by a surface at T [K] to surroundings at `surroundings` [K]. */
export function radiatedFlux(T: number, options: { emissivity: number; surroundings: number }): number {
  const { emissivity, surroundings } = options;
  return emissivity * stefanBoltzmann * (T ** 4 - surroundings ** 4);
}

/** The same as a film coefficient [W/(m^2 K)], exact also where both temperatures are equal. */
export function radiativeFilmCoefficient(T: number, options: { emissivity: number; surroundings: number }): number {
  const { emissivity, surroundings } = options;
  return emissivity * stefanBoltzmann * (T * T + surroundings * surroundings) * (T + surroundings);
}
