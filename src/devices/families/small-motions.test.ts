/** Stiffness and small travel of drawn devices against closed forms and frames of their middle lines. */
import { describe, expect, it } from "vitest";
import { constantExpansion, constantLaw, type LawLabel } from "#materials";
import type { Conditions } from "../conditions.ts";
import { createDeviceModel } from "../device-model.ts";
import type { Drawing } from "../drawing/part.ts";
import { noLoads, noPotentials } from "../model/drive.ts";
import { cascade } from "./cascade.ts";
import { hotAndColdArm } from "./hot-and-cold-arm.ts";
import { suspendedPlate } from "./suspended-plate.ts";

const um = 1e-6;
const degree = Math.PI / 180;

function conditionsOf(silicon: {
  readonly youngsModulus: number;
  readonly thickness: number;
  readonly density?: number;
  readonly poissonRatio?: number;
}): Conditions {
  const label: LawLabel = {
    unit: "",
    range: { from: 200, to: 1000 },
    relativeSpread: 0,
    source: { key: "round numbers of this test", consulted: "given by the user" },
  };
  return {
    materialAlong: () => ({
      name: "test",
      conductivity: constantLaw(100, label),
      resistivity: constantLaw(1e-4, label),
      expansion: constantExpansion(3e-6, label),
      youngsModulus: constantLaw(silicon.youngsModulus, label),
      // without it beams do not shear and have no torsion, as in the closed forms of stiffness
      poissonRatio: silicon.poissonRatio,
      heatCapacity: undefined,
      density: silicon.density === undefined ? undefined : constantLaw(silicon.density, label),
      strength: undefined,
      temperatureLimits: undefined,
    }),
    thickness: silicon.thickness,
    inward: 0,
    gap: undefined,
    gas: undefined,
    shapeFactors: new Map(),
    gasFactor: 1,
    ambient: 300,
    bondStrain: 0,
    notchFactor: 1,
    emissivity: 0,
    glass: undefined,
  };
}

/** E 160 GPa, 2 um thick: the sizes of the classic surface-micromachined flexures. */
const thin = conditionsOf({ youngsModulus: 160e9, thickness: 2 * um });

function strained(drawing: Drawing, conditions: Conditions, strains: { everywhere: number; parts: Record<string, number> }) {
  const warmth = { everywhere: strains.everywhere, parts: new Map(Object.entries(strains.parts)) };
  return createDeviceModel(drawing, conditions).operate({ kind: "uniform strain", warmth }, { loads: noLoads });
}

function hungOn(flexure: object, rest: { count: number; travel: string; side?: number }): Drawing {
  return suspendedPlate.assemble({
    plate: { width: rest.side ?? 100 * um, height: rest.side ?? 100 * um },
    flexure,
    count: rest.count,
    edges: "left and right",
    ...(rest.count === 4 ? { inset: 4 * um } : {}),
    travel: rest.travel,
    "heat loss": "none",
    roots: "rigid",
  });
}

describe("a plate on flexures", () => {
  const [E, t, w, L] = [160e9, 2e-6, 2e-6, 200e-6];
  const guided = (E * t * w ** 3) / L ** 3;

  it("has 12 E I / L^3 from every clamped-guided beam", () => {
    const flexure = { word: "clamped-guided beam", values: { length: L, width: w, island: "ideal" } };
    for (const count of [2, 4]) {
      const stiffness = createDeviceModel(hungOn(flexure, { count, travel: "y" }), thin).coldStiffness();
      // closed form of straight beams, exact in a frame of Euler beams; 1e-8 is the rounding of its solution
      expect(stiffness / (count * guided)).toBeCloseTo(1, 7);
    }
    expect(guided).toBeCloseTo(0.32, 12);
  });

  it("has 24 E I / L^3 from four folded flexures with rigid trusses", () => {
    const values = {
      length: L,
      width: w,
      spacing: 20 * um,
      side: "left",
      truss: { width: 10 * um, height: 40 * um },
      island: "ideal",
    };
    const drawing = hungOn({ word: "folded flexure", values }, { count: 4, travel: "y" });
    const stiffness = createDeviceModel(drawing, thin).coldStiffness();
    // both beams bend alike, so that their end moments on a truss cancel and it does not turn: exact but for rounding
    expect(stiffness / (2 * guided)).toBeCloseTo(1, 9);
  });

  it("on four folded flexures vibrates as the formula of the folded resonator says", () => {
    const [height, density, side] = [6e-6, 2330, 400e-6];
    const truss = { width: 10 * um, height: 40 * um };
    const values = { length: L, width: w, spacing: 20 * um, side: "left", truss, island: "ideal" };
    const drawing = hungOn({ word: "folded flexure", values }, { count: 4, travel: "y", side });
    const model = createDeviceModel(
      drawing,
      conditionsOf({ youngsModulus: 150e9, thickness: height, density, poissonRatio: 0.25 }),
    );
    const point = model.operate({ kind: "uniform strain", warmth: { everywhere: 0, parts: new Map() } }, { loads: noLoads });
    // [tang1989] (FROM MEMORY): f = sqrt(2 E t (w/L)^3 / M) / 2 pi, M = plate + trusses / 4 + 12/35 of the beams
    const mass = density * height * (side ** 2 + truss.width * truss.height + (12 / 35) * 8 * w * L);
    const formula = Math.sqrt((2 * 150e9 * height * (w / L) ** 3) / mass) / (2 * Math.PI);
    const excess = point.frequencies(6).map((frequency) => formula / frequency - 1);
    // the formula takes the static bending for the shape of the mode, and leaves out shear (3e-4 of the stiffness here):
    // it lies a little above one of the modes
    expect(excess.filter((value) => value > 0 && value < 5e-4)).toHaveLength(1);
  });

  it("on crab-legs has the stiffness of Fedder's formulas along both axes, but for their stretch", () => {
    const [La, wa, Lb, wb] = [100e-6, 3e-6, 200e-6, 2e-6];
    const values = { thigh: { length: Lb, width: wb }, shin: { length: La, width: wa }, side: "left", island: "ideal" };
    const flexure = { word: "crab-leg", values };
    const at = (travel: string) => createDeviceModel(hungOn(flexure, { count: 4, travel }), thin).coldStiffness();
    // [fedder1994] (FROM MEMORY): bending alone, r = (wb / wa)^3
    const r = (wb / wa) ** 3;
    const across = (E * t * wb ** 3 * (4 * Lb + r * La)) / (Lb ** 3 * (Lb + r * La));
    const along = (E * t * wa ** 3 * (Lb + 4 * r * La)) / (La ** 3 * (Lb + r * La));
    expect(across).toBeCloseTo(1.156129, 6);
    expect(along).toBeCloseTo(11.984516, 6);
    // with stretch one leg has 0.28896899 and 2.9933082 N/m: computed independently with a frame of Euler beams
    expect(at("y") / (4 * 0.28896899)).toBeCloseTo(1, 7);
    expect(at("x") / (4 * 2.9933082)).toBeCloseTo(1, 7);
  });
});

describe("a hot and a cold arm", () => {
  const drawing = hotAndColdArm.assemble({
    "hot arm": { length: 240 * um, width: 2 * um },
    "cold arm": { length: 200 * um, width: 14 * um },
    flexure: { width: 2 * um },
    gap: 2 * um,
    anchors: "ideal",
    "heat loss": "none",
    roots: "rigid",
  });

  it("has the stiffness and the small travel of the frame of its four middle lines", () => {
    const model = createDeviceModel(drawing, thin);
    // frame of four Euler beams, computed independently: 1.252743 N/m, 4.685177 um for strains of 1.2e-3 and 1.5e-4
    expect(model.coldStiffness() / 1.252743).toBeCloseTo(1, 6);
    // strains a ten-thousandth of those, so that the large turns of the exact frame do not matter
    const scale = 1e-4;
    const { travel } = strained(drawing, thin, {
      everywhere: 1.5e-4 * scale,
      parts: { "hot arm": 1.2e-3 * scale, link: 1.2e-3 * scale },
    });
    expect(travel / (4.685177e-6 * scale)).toBeCloseTo(1, 5);
  });

  it("leads its current through both arms in series", () => {
    const point = createDeviceModel(drawing, thin).operate(
      { kind: "pads", voltage: 0.1, potentials: noPotentials },
      { loads: noLoads },
    );
    const currents = ["hot arm", "link", "cold arm", "flexure"].map((name) => point.partNamed(name).current);
    // 1e-4 ohm m over 240 / 2 + 10 / 2 + 200 / 14 + 40 / 2 squares of a film of 2 um
    const expected = 0.1 / ((1e-4 / (2 * um)) * (120 + 5 + 200 / 14 + 20));
    for (const current of currents) expect(current / expected).toBeCloseTo(1, 6);
  });
});

describe("a cascade", () => {
  const values = {
    primaries: {
      legs: { pairs: 1, length: 500 * um, width: 8 * um, tilt: 3 * degree },
      shuttle: "point",
      anchors: "ideal",
    },
    secondary: { length: 400 * um, width: 6 * um, tilt: 6 * degree },
    shuttle: "point",
    "heat loss": "none",
    roots: "rigid",
  };
  const thick = conditionsOf({ youngsModulus: 169e9, thickness: 40 * um });
  const legs = ["left", "right"].flatMap((side) => ["upper", "lower"].map((leg) => `${side} primary leg 1 ${leg}`));
  /** So small that the large turns of the exact frame change the motion by less than 1e-5. */
  const scale = 1e-5;

  it.each([
    [0, 1.427465e-6, 1.3349529e-5],
    [3e-4, 1.340612e-6, 1.3665911e-5],
  ])("moves as the frame of its middle lines does, with the secondary strained by %f", (secondary, push, travel) => {
    // frames of six Euler beams whose joints turn freely, computed independently for strains of 6e-4 in the primaries
    const point = strained(cascade.assemble({ ...values, current: "through primaries" }), thick, {
      everywhere: secondary * scale,
      parts: Object.fromEntries(legs.map((leg) => [leg, 6e-4 * scale])),
    });
    expect(Math.abs(point.travel / (travel * scale) - 1)).toBeLessThan(1e-5);
    const apex = { x: -400 * um * Math.cos(6 * degree), y: -400 * um * Math.sin(6 * degree) };
    expect(Math.abs(point.motionAt(apex).x / (push * scale) - 1)).toBeLessThan(1e-5);
  });

  it("leaves its secondary without current, or feeds it with all of it", () => {
    const at = (current: string) => {
      const drawing = cascade.assemble({ ...values, current });
      const point = createDeviceModel(drawing, thick).operate(
        { kind: "pads", voltage: 0.1, potentials: noPotentials },
        { loads: noLoads },
      );
      const of = (name: string) => Math.abs(point.partNamed(name).current);
      return of("secondary leg left") / of("left primary leg 1 upper");
    };
    // by symmetry both ends of the secondary are at half the voltage
    expect(at("through primaries")).toBeLessThan(1e-9);
    // both legs of a primary feed it
    expect(at("through all")).toBeCloseTo(2, 6);
  });
});
