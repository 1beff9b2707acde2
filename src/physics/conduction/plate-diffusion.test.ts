import { describe, expect, it } from "vitest";
import { depthDecay, depthFactor, lengthExchange, lengthFactor } from "./plate-diffusion.ts";

describe("exchange along an insulated length", () => {
  const pairs = [
    { from: { middle: 0.3, length: 0.2 }, to: { middle: 0.3, length: 0.2 } },
    { from: { middle: 0.1, length: 0.2 }, to: { middle: 0.75, length: 0.4 } },
    { from: { middle: 0.5, length: 1 }, to: { middle: 0.9, length: 0.1 } },
  ];

  it("changes from images to the series without a step", () => {
    for (const pair of pairs) {
      const exchange = lengthExchange(1, pair);
      const [before, after] = [lengthFactor(exchange, 0.125), lengthFactor(exchange, 0.125 * (1 + 1e-15))];
      expect(Math.abs(before - after)).toBeLessThan(1e-12);
    }
  });

  it("starts at one over the longer stretch where one lies in the other, and ends at one over the length", () => {
    const inside = lengthExchange(2, { from: { middle: 0.5, length: 0.4 }, to: { middle: 0.55, length: 0.1 } });
    expect(lengthFactor(inside, 1e-4)).toBeCloseTo(1 / 0.4, 12);
    expect(lengthFactor(inside, 20)).toBe(0.5);
  });

  it("keeps all the heat: a stretch that covers everything sees the mean at any time", () => {
    for (const spread of [0.01, 0.1, 0.3, 3]) expect(lengthFactor(lengthExchange(1, pairs[2]!), spread)).toBeCloseTo(1, 12);
  });

  it("is the same both ways", () => {
    const { from, to } = pairs[1]!;
    for (const spread of [0.05, 0.11, 0.2]) {
      const [there, back] = [lengthExchange(1, { from, to }), lengthExchange(1, { from: to, to: from })];
      expect(Math.abs(lengthFactor(there, spread) - lengthFactor(back, spread))).toBeLessThan(1e-13);
    }
  });
});

describe("decay through the thickness", () => {
  it.each([0.001, 0.5, 3, 100, Number.POSITIVE_INFINITY])("with film × thickness / conductivity = %d", (biot) => {
    const decay = depthDecay(1, biot);
    const first = decay.wavenumbers[0]!;
    if (biot < Number.POSITIVE_INFINITY) expect(Math.abs(first * Math.tan(first) - biot)).toBeLessThan(1e-9 * (1 + biot * biot));
    for (let n = 1; n < decay.wavenumbers.length; n++) {
      expect(decay.wavenumbers[n]!).toBeGreaterThanOrEqual(n * Math.PI);
      expect(decay.wavenumbers[n]!).toBeLessThanOrEqual((n + 0.5) * Math.PI);
    }
    // Half space on one side of the change, modes on the other. What the base sends back is below 2 exp(-36) plus the cut of the series.
    const change = 1 / 6;
    const step = depthFactor(decay, change * (1 + 1e-14)) * Math.sqrt(Math.PI) * change - 1;
    expect(Math.abs(step)).toBeLessThan(1e-12);
  });

  it("leaves 1/thickness on the way out where the film is weak", () => {
    expect(depthFactor(depthDecay(2, 1e-6), 5)).toBeCloseTo(0.5, 4);
  });
});
