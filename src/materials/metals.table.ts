/**
 * Bulk metals at 20-25 degC, [crc2005] class values FROM MEMORY; specific heat [chase1998] READ (copper from memory).
 * Thin films: resistivity 1.2-3 times higher, conductivity lower by the same factor, modulus 0.7-1.0 times.
 * Checked by the Wiedemann-Franz ratio in library.test.ts.
 */

import type { MetalRow } from "./metal-record.ts";

/** Columns: Young's modulus [Pa], Poisson ratio, density [kg/m^3], expansion [1/K], conductivity [W/(m K)], specific heat [J/(kg K)], resistivity at 293 K [ohm m], its coefficient [1/K] and relative spread of that, melting point [K], hottest use of the row [K]. */
export const metalRows: readonly MetalRow[] = [
  ["aluminium", 70e9, 0.345, 2700, 23.1e-6, 237, 897, 2.65e-8, 4.2e-3, 0.03, 933, 500],
  ["gold", 78e9, 0.43, 19300, 14.2e-6, 318, 129, 2.21e-8, 3.7e-3, 0.03, 1337, 600],
  ["chromium", 279e9, 0.21, 7150, 4.9e-6, 94, 451, 12.5e-8, 2.5e-3, 0.2, 2180, 500],
  ["nickel", 200e9, 0.31, 8908, 13.4e-6, 91, 443, 6.93e-8, 6e-3, 0.05, 1728, 450],
  ["titanium", 116e9, 0.32, 4506, 8.6e-6, 21.9, 510, 42e-8, 3.8e-3, 0.15, 1941, 500],
  ["tungsten", 411e9, 0.28, 19250, 4.5e-6, 174, 132, 5.28e-8, 4.5e-3, 0.05, 3695, 700],
  ["copper", 120e9, 0.34, 8960, 16.5e-6, 401, 385, 1.68e-8, 3.9e-3, 0.03, 1358, 600],
];

/** What to know of single metals. */
export const metalNotes: Readonly<Record<string, readonly string[]>> = {
  nickel: [
    "Curie point 627 K: kinks in specific heat and resistivity.",
    "Electroplated: 180 GPa in plane (24), on silicon or glass 115-135 GPa; strength falls sharply above 400 degC.",
  ],
};
