import { describe, expect, it } from "vitest";
import { findBlockedForce, findForceTravel } from "./blocked-force.ts";
import { createFrameModel } from "./model.ts";
import { apex, B9, chevron, D1, equilibrium, errorOf, um } from "./sample-frames.ts";

describe("line from blocked to free", () => {
  const model = createFrameModel(chevron(D1));
  const load = { strains: [3e-4, 3e-4] };
  const line = findForceTravel(model, load, { ...apex, nPoints: 5 });
  if ("reason" in line) throw new Error(line.reason);

  it("ends at the blocked force and at the free travel", () => {
    expect(line.points.map(({ travel }) => travel / line.freeTravel)).toEqual([0, 0.25, 0.5, 0.75, 1]);
    expect(line.points[4]!.force).toBe(0);
    expect(line.freeTravel).toBe(equilibrium(model, load).motions[7]);
    const blocked = findBlockedForce(model, load, { held: [{ ...apex, value: 0 }] });
    expect(errorOf(line.points[0]!.force, blocked.forces[0]!)).toBeLessThan(1e-9);
    // straight legs push with 2 E w t eps sin exactly; ten elements
    expect(errorOf(line.points[0]!.force, 2 * D1.E * D1.w * D1.t * 3e-4 * Math.sin(D1.angle))).toBeLessThan(1e-6);
    for (let i = 1; i < 5; i++) expect(line.points[i]!.force).toBeLessThan(line.points[i - 1]!.force);
  });
  it("has the slope that its stiffness says", () => {
    const finer = findForceTravel(model, load, { ...apex, nPoints: 401 });
    if ("reason" in finer) throw new Error(finer.reason);
    for (const i of [100, 200, 300]) {
      const [a, b, c] = [finer.points[i - 1]!, finer.points[i]!, finer.points[i + 1]!];
      // central difference over 1/200 of the travel
      expect(errorOf((a.force - c.force) / (c.travel - a.travel), b.stiffness)).toBeLessThan(1e-5);
    }
  });
  it("says where the held legs buckle", () => {
    const hot = findForceTravel(createFrameModel(chevron(B9)), { strains: [7.8e-4, 7.8e-4] }, { ...apex, nPoints: 9 });
    if ("reason" in hot) throw new Error(hot.reason);
    expect(hot.points[0]!.force).toBeNaN();
    expect(hot.points[0]!.reason).toContain("buckles");
    expect(hot.points[8]!.reason).toBeUndefined();
    expect(hot.points[7]!.force).toBeGreaterThan(0);
    // once stable, stable up to the free end
    const firstStable = hot.points.findIndex(({ reason }) => reason === undefined);
    expect(hot.points.slice(firstStable).every(({ force }) => force >= 0)).toBe(true);
  });
  it("holds several motions at once", () => {
    const held = [
      { junction: 2, motion: "x" as const, value: 0.1 * um },
      { ...apex, value: 1 * um },
    ];
    const { forces, state } = findBlockedForce(model, load, { held });
    expect(forces.length).toBe(2);
    expect(state!.motions[6]).toBe(0.1 * um);
    expect(forces[0]).toBe(0 - state!.reactions[6]!);
  });
});
