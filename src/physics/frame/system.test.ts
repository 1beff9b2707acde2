import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { factorLdltInto } from "#numerics";
import { layPath, resolveLoad } from "./load-path.ts";
import { createFrameModel, type FrameModel } from "./model.ts";
import type { FrameLoad, FrameNetwork } from "./network.ts";
import { at, clamped, straightBeam } from "./sample-frames.ts";
import type { FrameSystem } from "./system.ts";

// Lengths of order one, so that one step of differences suits all motions.
const size = { width: 0.3, thickness: 0.5, youngsModulus: 20, nElements: 3 };

/** Everything at once: offsets, hinges, taper, curve, shear, springs, masses, stops. */
const network: FrameNetwork = {
  junctions: [
    at("a", 0, 0, clamped),
    {
      ...at("body", 2, 1),
      springs: { x: 0.7, turn: 0.2 },
      body: { mass: 0.5, centre: [0.2, -0.1], aboutX: 1, aboutY: 1, aboutZ: 1 },
    },
    at("c", 4, 0, ["x", "y"]),
    at("d", 3, 2.5),
  ],
  beams: [
    straightBeam({ from: 0, to: 1, start: [0, 0.2], end: [1.6, 0.8] }, { ...size, shearModulus: 8, density: 0.4 }),
    { ...straightBeam({ from: 1, to: 2, start: [2.3, 1.1], end: [4, 0] }, size), widths: Float64Array.of(0.2, 0.25, 0.3) },
    {
      ...straightBeam({ from: 3, to: 1, start: [3.1, 2.4], end: [2.1, 1.3] }, { ...size, hingedFrom: true, density: 0.3 }),
      nodes: Float64Array.of(3.1, 2.4, 2.9, 2.2, 2.6, 1.7, 2.1, 1.3),
    },
    straightBeam({ from: 3, to: 2, start: [3, 2.5], end: [4, 0] }, { ...size, nElements: 1, hingedTo: true }),
    straightBeam({ from: 0, to: 3, start: [0, 0], end: [3, 2.5] }, { ...size, hingedFrom: true, hingedTo: true }),
  ],
  stops: [
    { name: "wall", junction: 1, offset: [0.3, 0.4], direction: [0.6, 0.8], gap: 0.05 },
    { name: "post", junction: 3, offset: [0, 0.1], direction: [0, 1], gap: 0.02 },
  ],
};
const load: FrameLoad = {
  strains: [0.01, -0.02, 0.015, 0.01, 0],
  moduli: [18, 20, 22, 20, 20],
  bodyStrains: Float64Array.of(0, 0.03, 0, -0.02),
  forces: [
    { junction: 1, motion: "y", value: 0.3, offset: [0.5, 0.2] },
    { junction: 3, motion: "x", value: -0.2 },
    { junction: 3, motion: "turn", value: 0.1 },
  ],
  held: [{ junction: 2, motion: "turn", value: 0.1 }],
  acceleration: [0.3, -0.7],
};

function stand(model: FrameModel, motions: Float64Array, options: { factor: number; isClosed: readonly number[] }): FrameSystem {
  const to = resolveLoad(load, model);
  const system = model.begin(layPath(to, { topology: model.topology }), { held: to.held, start: undefined });
  system.motions.set(motions);
  system.isClosed.set(options.isClosed);
  system.evaluate(options.factor);
  return system;
}

/** Unbalanced forces at the junctions and inner nodes, ways to close at the stops. */
function residual(
  model: FrameModel,
  motions: Float64Array,
  options: { factor: number; isClosed: readonly number[] },
): Float64Array {
  const system = stand(model, motions, options);
  const x = new Float64Array(model.topology.nMotions);
  system.residualInto(x);
  system.gatherEnds(x);
  return x;
}

/** Entries of the flat array that are unknowns of their own. */
function unknownsOf(model: FrameModel, isClosed: readonly number[]): number[] {
  const { topology } = model;
  const isHeld = new Set([0, 1, 2, 6, 7, 8]);
  const list: number[] = [];
  for (let i = 0; i < 3 * topology.nJunctions; i++) if (!isHeld.has(i)) list.push(i);
  for (let b = 0; b < topology.nBeams; b++) {
    for (let i = topology.nodesAt[b]! + 3; i < topology.nodesAt[b + 1]! - 3; i++) list.push(i);
    if (topology.hinged[2 * b] === 1) list.push(topology.nodesAt[b]! + 2);
    if (topology.hinged[2 * b + 1] === 1) list.push(topology.nodesAt[b + 1]! - 1);
  }
  isClosed.forEach((closed, s) => {
    if (closed === 1) list.push(topology.stopsAt + s);
  });
  return list;
}

const closures = fc.constantFrom([0, 0], [1, 0], [0, 1], [1, 1]);

describe("equations of the frame", () => {
  const model = createFrameModel(network);
  const n = model.topology.nMotions;
  const states = fc.array(fc.double({ min: -0.1, max: 0.1, noNaN: true }), { minLength: n, maxLength: n });

  it("solves with the derivative of the unbalanced force", () => {
    fc.assert(
      fc.property(states, states, closures, (values, direction, isClosed) => {
        const motions = Float64Array.from(values);
        const change = new Float64Array(n);
        for (const i of unknownsOf(model, isClosed)) change[i] = direction[i]!;
        const h = 1e-5;
        const shifted = (sign: number): Float64Array =>
          residual(
            model,
            motions.map((value, i) => value + sign * h * change[i]!),
            { factor: 0.6, isClosed },
          );
        const above = shifted(1);
        const below = shifted(-1);
        const x = above.map((value, i) => (below[i]! - value) / (2 * h));
        // a stop wants the way to close, which is minus what its unbalanced way does
        const system = stand(model, motions, { factor: 0.6, isClosed });
        expect(system.factor()).toBeGreaterThanOrEqual(0);
        system.imposeNothing();
        system.solveInto(x);
        // Differences leave 1e-9 of the forces; the softest motion of a random state may amplify that ten thousandfold. Changes are 0.1.
        for (const i of unknownsOf(model, isClosed)) expect(Math.abs(x[i]! - change[i]!)).toBeLessThan(2e-6);
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  it("counts the negative eigenvalues of the whole tangent", () => {
    fc.assert(
      fc.property(states, closures, (values, isClosed) => {
        // large motions, so that unstable states are among them
        const motions = Float64Array.from(values, (value) => 6 * value);
        const list = unknownsOf(model, isClosed);
        const h = 1e-6;
        const dense = new Float64Array(list.length ** 2);
        list.forEach((column, c) => {
          const up = Float64Array.from(motions);
          const down = Float64Array.from(motions);
          up[column] = up[column]! + h;
          down[column] = down[column]! - h;
          const above = residual(model, up, { factor: 1, isClosed });
          const below = residual(model, down, { factor: 1, isClosed });
          list.forEach((row, r) => {
            dense[r * list.length + c] = (below[row]! - above[row]!) / (2 * h);
          });
        });
        const system = stand(model, motions, { factor: 1, isClosed });
        // Lagrange rows stand last: with them every closed stop brings one negative eigenvalue
        const nClosed = isClosed[0]! + isClosed[1]!;
        const { nNegative } = factorLdltInto(dense, { n: list.length });
        expect(system.factor()).toBe(nNegative - nClosed);
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  it("has the derivative with the load factor, held motions and growing bodies included", () => {
    const h = 1e-4;
    for (const isClosed of [
      [0, 0],
      [1, 1],
    ]) {
      const settleAt = (factor: number): Float64Array => {
        const motions = new Float64Array(n);
        for (let pass = 0; pass < 12; pass++) {
          // the held motion of the load
          motions[8] = 0.1 * factor;
          const system = stand(model, motions, { factor, isClosed });
          motions.set(system.motions);
          system.factor();
          const x = new Float64Array(n);
          system.residualInto(x);
          system.imposeNothing();
          system.solveInto(x);
          for (let i = 0; i < n; i++) motions[i] = motions[i]! + x[i]!;
        }
        return stand(model, motions, { factor, isClosed }).motions.slice();
      };
      const middle = settleAt(0.1);
      const above = settleAt(0.1 + h);
      const below = settleAt(0.1 - h);
      const system = stand(model, middle, { factor: 0.1, isClosed });
      system.factor();
      const x = new Float64Array(n);
      system.slopeInto(x);
      system.solveInto(x);
      for (let i = 0; i < n; i++) {
        // h^2 times a third derivative
        expect(Math.abs(x[i]! - (above[i]! - below[i]!) / (2 * h))).toBeLessThan(1e-6);
      }
    }
  });

  // Skyline of the junctions: 3 x 3 blocks on and beside the diagonal, whatever the number.
  it("stores a matrix that grows with the number of beams, not with its square", () => {
    const stored = (nPairs: number, isChain: boolean): number => {
      const junctions = [at("hub", 0, 0)];
      const beams = [];
      for (let i = 0; i < 2 * nPairs; i++) {
        const place = isChain ? [i + 1, 0.3 * (i % 2)] : [i % 2 === 0 ? -5 : 5, i];
        const isLast = i === 2 * nPairs - 1;
        junctions.push(at("j", place[0]!, place[1]!, isChain && !isLast ? [] : clamped));
        const from = isChain ? i : 0;
        const start = isChain ? [junctions[from]!.x, junctions[from]!.y] : [0, i];
        beams.push(straightBeam({ from, to: i + 1, start, end: place }, size));
      }
      const big = createFrameModel({ junctions, beams });
      big.solveLinear({ forces: [{ junction: 0, motion: "y", value: 1e-6 }] });
      const to = resolveLoad({}, big);
      const system = big.begin(layPath(to, { topology: big.topology }), { held: [], start: undefined });
      return system.rows.matrix.values.length;
    };
    expect(stored(200, false)).toBe(6);
    expect(stored(100, true)).toBeLessThan(2.05 * stored(50, true));
    expect(stored(100, true)).toBeLessThanOrEqual(200 * 21);
  });
});
