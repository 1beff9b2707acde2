import { describe, expect, it } from "vitest";
import { spreadingResistance, spreadingStep } from "./spreading.ts";
import { ladderResponse, spreadingLadder } from "./spreading-ladder.ts";

const die = {
  length: 5e-3,
  width: 5e-3,
  thickness: 0.5e-3,
  conductivity: 1.15,
  volumetricHeatCapacity: 2230 * 830,
  baseFilm: Number.POSITIVE_INFINITY,
};
const source = { x: 1.2e-3, y: 2.5e-3, length: 1e-3, width: 1.2e-3 };

describe("warm-up as a short sum of exponentials", () => {
  it.each([Number.POSITIVE_INFINITY, 500, 20])(
    "keeps within 1 %% of the plate from 0.1 ms on, base film %d W/(m² K)",
    (baseFilm) => {
      const plate = { ...die, baseFilm };
      const { terms, steady, worstMisfit } = spreadingLadder(plate, { source, nTerms: 10, from: 1e-4 });
      expect(worstMisfit).toBeLessThan(0.01);
      expect(terms.length).toBeLessThanOrEqual(10);
      // At times of its own, between the samples of the fit.
      const times = Array.from({ length: 57 }, (_, i) => 1.03e-4 * 1.27 ** i);
      const exact = spreadingStep(plate, { source, times });
      times.forEach((time, i) => {
        expect(Math.abs(ladderResponse(terms, time) / exact[i]! - 1)).toBeLessThan(0.01);
      });
      const sum = terms.reduce((total, term) => total + term.resistance, 0);
      expect(Math.abs(sum / steady - 1)).toBeLessThan(1e-12);
      expect(Math.abs(steady / spreadingResistance(plate, source).uniform - 1)).toBeLessThan(1e-12);
    },
  );

  it("has resistances above zero, and comes nearer with more terms", () => {
    const at = (nTerms: number) => spreadingLadder(die, { source, nTerms, from: 1e-4 });
    for (const term of at(12).terms) expect(term.resistance).toBeGreaterThan(0);
    expect(at(12).worstMisfit).toBeLessThan(at(6).worstMisfit / 4);
  });

  it("refuses what has no answer", () => {
    expect(() => spreadingLadder(die, { source, nTerms: 1, from: 1e-4 })).toThrow(RangeError);
    expect(() => spreadingLadder(die, { source, nTerms: 6, from: 0 })).toThrow(RangeError);
    expect(() => spreadingLadder(die, { source, nTerms: 6, from: 10 })).toThrow(/slowest/);
  });
});
