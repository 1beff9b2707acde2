import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ladderFromFoster } from "./foster-chain.ts";
import type { FosterElement } from "./network.ts";

/** Impedance at the real Laplace variable s of a Foster chain, and of a ladder by its continued fraction. */
const ofChain = (chain: readonly FosterElement[], s: number): number =>
  chain.reduce((sum, { resistance: R, capacitance: C }) => sum + R / (1 + s * R * C), 0);
function ofLadder(chain: readonly FosterElement[], s: number): number {
  const { entryResistance, capacities, conductances } = ladderFromFoster(chain);
  let beyond = 0;
  for (let k = capacities.length - 1; k >= 0; k--) beyond = 1 / (s * capacities[k]! + 1 / (1 / conductances[k]! + beyond));
  return entryResistance + beyond;
}

describe("ladder of a Foster chain", () => {
  it("has the chain's impedance from steady to fast, all of its parts positive", () => {
    const decades = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(decades, decades), { minLength: 1, maxLength: 7 }), (parts) => {
        const chain = parts.map(([r, t], i) => {
          const resistance = 100 * 10 ** r;
          return { resistance, capacitance: 10 ** (t + i - 4) / resistance };
        });
        const ladder = ladderFromFoster(chain);
        for (const value of [...ladder.capacities, ...ladder.conductances]) expect(value).toBeGreaterThan(0);
        // seven time constants over eight decades: Lanczos with full orthogonalisation keeps its entries to about 1e-9
        for (const s of [0, 1e-4, 1e-2, 1, 100, 1e4, 1e6])
          expect(Math.abs(ofLadder(chain, s) / ofChain(chain, s) - 1)).toBeLessThan(1e-8);
      }),
      { seed: 5, numRuns: 100 },
    );
  });

  it("puts equal elements and bare resistances together", () => {
    const chain = [
      { resistance: 5, capacitance: 0 },
      { resistance: 10, capacitance: 1 },
      { resistance: 20, capacitance: 0.5 },
      { resistance: 7, capacitance: 0 },
    ];
    const ladder = ladderFromFoster(chain);
    expect(ladder.entryResistance).toBe(12);
    expect(ladder.capacities).toHaveLength(1);
    expect(1 / ladder.conductances[0]!).toBeCloseTo(30, 12);
    expect(ladder.capacities[0]).toBeCloseTo(1 / 3, 12);
  });
});
