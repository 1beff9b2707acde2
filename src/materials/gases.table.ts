/**
 * Gases: vapour-form constants of conductivity and viscosity, [perry2008] READ second hand in an open property library.
 * The polynomials of [vdi2010] agree within 2 %. Ranges of viscosity and of argon FROM MEMORY, cut on the safe side.
 * Checked in gas.test.ts.
 */

export interface GasRow {
  readonly name: string;
  readonly conductivity: readonly [number, number, number, number];
  readonly viscosity: readonly [number, number, number, number];
  readonly range: { readonly from: number; readonly to: number };
  readonly molarMass: number;
  readonly heatRatio: number;
  readonly prandtlNumber: number;
}

export const gasRows: readonly GasRow[] = [
  {
    name: "air",
    conductivity: [3.1417e-4, 0.7786, -0.7116, 2121.7],
    viscosity: [1.425e-6, 0.5039, 108.3, 0],
    range: { from: 80, to: 2000 },
    molarMass: 0.0289647,
    heatRatio: 1.4,
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: a measured Prandtl number that happens to lie near sqrt(1/2).
    prandtlNumber: 0.707,
  },
  {
    name: "nitrogen",
    conductivity: [3.3143e-4, 0.7722, 16.323, 373.72],
    viscosity: [6.5592e-7, 0.6081, 54.714, 0],
    range: { from: 80, to: 1970 },
    molarMass: 0.0280134,
    heatRatio: 1.4,
    prandtlNumber: 0.717,
  },
  {
    name: "helium",
    conductivity: [2.26e-3, 0.7305, -18.63, 440],
    viscosity: [3.253e-7, 0.7162, -9.6, 107],
    range: { from: 30, to: 2000 },
    molarMass: 0.0040026,
    heatRatio: 5 / 3,
    prandtlNumber: 0.667,
  },
  {
    name: "argon",
    conductivity: [6.33e-4, 0.6221, 70, 0],
    viscosity: [9.2121e-7, 0.60529, 83.24, 0],
    range: { from: 90, to: 2000 },
    molarMass: 0.039948,
    heatRatio: 5 / 3,
    prandtlNumber: 0.667,
  },
];
