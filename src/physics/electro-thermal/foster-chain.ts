/**
 * The ladder of capacities to ground and resistances between them that has the impedance of a Foster chain.
 *
 * A chain of parallel RC elements makes every capacity carry the junction's own changes at once, which no step in time can follow as it
 * stands; the ladder has ordinary rates. Z(s) = sum (1/C_i)/(s + 1/(R_i C_i)) is the first entry of the resolvent of a Jacobi matrix
 * with eigenvalues 1/(R_i C_i) and weights 1/C_i, found by Lanczos with full orthogonalisation; its entries are the ladder's.
 * Source: Golub & Van Loan, Matrix Computations, chapter 10 (key golub2013, from memory); the ladder is derived here.
 * Validity: elements whose time constants differ by less than 1e-9 are one element. Main test: foster-chain.test.ts.
 */
import type { FosterElement } from "./network.ts";

export interface Ladder {
  /** Between the junction and the first capacity [K/W]; 0 where the first capacity sits at the junction itself. */
  readonly entryResistance: number;
  /** From the junction on [J/K]. */
  readonly capacities: Float64Array;
  /** From each capacity to the next, the last one to the held temperature [W/K]. */
  readonly conductances: Float64Array;
}

/** Elements of equal time constant put together, sorted from fast to slow. */
function mergeEqual(elements: readonly FosterElement[]): FosterElement[] {
  const sorted = [...elements].sort((a, b) => a.resistance * a.capacitance - b.resistance * b.capacitance);
  const merged: FosterElement[] = [];
  for (const element of sorted) {
    const last = merged.at(-1);
    const tau = element.resistance * element.capacitance;
    if (last !== undefined && tau - last.resistance * last.capacitance <= 1e-9 * tau) {
      const resistance = last.resistance + element.resistance;
      merged[merged.length - 1] = { resistance, capacitance: tau / resistance };
    } else merged.push(element);
  }
  return merged;
}

export function ladderFromFoster(chain: readonly FosterElement[]): Ladder {
  const entryResistance = chain.reduce((sum, { resistance, capacitance }) => sum + (capacitance === 0 ? resistance : 0), 0);
  const elements = mergeEqual(chain.filter(({ capacitance }) => capacitance > 0));
  const n = elements.length;
  const capacities = new Float64Array(n);
  const conductances = new Float64Array(n);
  if (n === 0) return { entryResistance, capacities, conductances };
  const rates = elements.map(({ resistance, capacitance }) => 1 / (resistance * capacitance));
  const total = elements.reduce((sum, { capacitance }) => sum + 1 / capacitance, 0);
  const basis = [Float64Array.from(elements, ({ capacitance }) => Math.sqrt(1 / capacitance / total))];
  capacities[0] = 1 / total;
  let before = 0;
  for (let k = 0; k < n; k++) {
    const now = basis[k]!;
    const next = Float64Array.from(now, (value, i) => rates[i]! * value);
    const mean = next.reduce((sum, value, i) => sum + value * now[i]!, 0);
    // a_k = (g_(k-1) + g_k)/C_k
    conductances[k] = mean * capacities[k]! - before;
    before = conductances[k]!;
    if (k === n - 1) break;
    for (let pass = 0; pass < 2; pass++) {
      for (const vector of basis) {
        const part = next.reduce((sum, value, i) => sum + value * vector[i]!, 0);
        for (let i = 0; i < n; i++) next[i] = next[i]! - part * vector[i]!;
      }
    }
    const length = Math.sqrt(next.reduce((sum, value) => sum + value * value, 0));
    // b_k = g_k/sqrt(C_k C_(k+1))
    capacities[k + 1] = (conductances[k]! / length) ** 2 / capacities[k]!;
    basis.push(next.map((value) => value / length));
  }
  return { entryResistance, capacities, conductances };
}
