/**
 * Parameters of the mobility of [masetti1983] at 300 K, in cm^2/(V s) and 1/cm^3. Phosphorus and arsenic READ second hand,
 * boron FROM MEMORY. Checked against the standard resistivity in mobility.test.ts: within 11 %, the real spread of doping laws.
 */

export interface MasettiParameters {
  readonly maximum: number;
  readonly least: number;
  readonly drop: number;
  readonly reference: number;
  readonly referenceHigh: number;
  readonly exponent: number;
  readonly exponentHigh: number;
  readonly pc: number;
}

export const masettiParameters: Readonly<Record<"phosphorus" | "arsenic" | "boron", MasettiParameters>> = {
  phosphorus: {
    maximum: 1414,
    least: 68.5,
    drop: 56.1,
    reference: 9.2e16,
    referenceHigh: 3.41e20,
    exponent: 0.711,
    exponentHigh: 1.98,
    pc: 0,
  },
  arsenic: {
    maximum: 1417,
    least: 52.2,
    drop: 43.4,
    reference: 9.68e16,
    referenceHigh: 3.43e20,
    exponent: 0.68,
    exponentHigh: 2,
    pc: 0,
  },
  boron: {
    maximum: 470.5,
    least: 44.9,
    drop: 29,
    reference: 2.23e17,
    referenceHigh: 6.1e20,
    exponent: 0.719,
    exponentHigh: 2,
    pc: 9.23e16,
  },
};
