/** Pictures of devices, and the view behind them: against the numbers of the same operating point. */
import { describe, expect, it } from "vitest";
import { viewDevice } from "#devices";
import { night, paper } from "#picture";
import { openChip } from "../predict/chip.ts";
import { drawDevice } from "./device.ts";

const chip = openChip(
  `chip: view
version: 1
surroundings: { gas: vacuum, temperature: 300 K }
materials:
  stuff:
    conductivity: 100 W/(m K)
    resistivity: 1e-4 ohm m
    expansion: 3 ppm/K
    young modulus: 160 GPa
process: { flow: idealised, silicon thickness: 20 um, silicon: { material: stuff } }
devices:
  arm:
    is: composition
    points:
      root: { x: 0 um, y: 0 um }
      tip: { x: 400 um, y: 0 um }
      end: { x: 450 um, y: 0 um }
      far: { x: 900 um, y: 0 um }
    parts:
      left: { is: anchor, at: root, width: 60 um, height: 60 um, heat: ideal, wire: plus }
      head: { is: plate, at: end, width: 100 um, height: 80 um, holes: { columns: 2, rows: 1, side: 20 um, pitch: 40 um } }
      bar: { is: beam, from: root, to: tip, width: 8 um, end width: 4 um }
      back: { is: beam, from: head right, to: far, width: 5 um }
      right: { is: anchor, at: far, width: 60 um, height: 60 um, heat: ideal, wire: minus }
      wall: { is: stop, at: head top, direction: 90 deg, gap: 30 um }
    output: { point: end, direction: 90 deg }
    heat loss: none
    roots: rigid
drive:
  cases:
    pushed: { uniform rise: 0 K, forces: { end: { y: 200 uN, turn: 2 nN m } } }
    warm: { pads: 1 V }
    crushed: { uniform rise: 0 K, forces: { end: { x: -50 mN } } }
    run: { steps: [{ for: 1 ms, pads: 1 V }] }
`,
  { file: "view.yaml" },
);

function viewAt(caseName: string, exaggeration: number) {
  const side = chip.side("drawn");
  const point = side.pointAt("arm", caseName);
  return { point, view: viewDevice(side.modelAt("arm", caseName), { point, exaggeration }), points: point };
}

const request = { side: "drawn", exaggeration: 1, points: [], tokens: paper } as const;

describe("the view of a device", () => {
  it.each([1, 7])("moves a point by %d times its motion", (exaggeration) => {
    const { point, view } = viewAt("pushed", exaggeration);
    const moved = view.points.get("end")!;
    const { x, y } = point.motionAt({ x: 450e-6, y: 0 });
    expect(Math.abs(moved.y - exaggeration * y)).toBeLessThan(1e-15);
    expect(Math.abs(moved.x - 450e-6 - exaggeration * x)).toBeLessThan(1e-15);
    expect(y).toBeGreaterThan(1e-7);
  });
  it("lets a beam begin on its anchor and end where the plate has moved to", () => {
    const { view } = viewAt("pushed", 1);
    const bar = view.beams.find((beam) => beam.name === "bar")!;
    const last = bar.line.length;
    const left = view.points.get("head left")!;
    expect([...bar.line.slice(0, 2)]).toEqual([30e-6, 0]);
    expect(Math.hypot(bar.line[last - 2]! - left.x, bar.line[last - 1]! - left.y)).toBeLessThan(1e-12);
  });
  it("draws an outline that keeps its size, with its openings", () => {
    const { view } = viewAt("pushed", 1);
    const head = view.bodies.find((body) => body.name === "head")!;
    expect(head.outlines).toHaveLength(3);
    const [x0, y0, x1, y1] = head.outlines[0]!;
    expect(Math.hypot(x1! - x0!, y1! - y0!)).toBeCloseTo(100e-6, 12);
  });
  it("shows the hottest place where the model has it, and the ends as cool as their anchors", () => {
    const { point, view } = viewAt("warm", 1);
    const all = view.beams.flatMap((beam) => [...beam.temperatures]);
    // thirty-two pieces a beam: the middle of the hottest lies within half a piece of the peak
    expect(Math.max(...all) / point.hottestTemperature).toBeGreaterThan(0.995);
    const [first] = view.beams.find((beam) => beam.name === "bar")!.temperatures;
    expect(first! - 300).toBeLessThan(0.1 * (point.hottestTemperature - 300));
    const head = view.bodies.find((body) => body.name === "head")!.field;
    expect(head.shares[0]).toBe(0);
    expect(head.shares[head.shares.length - 1]).toBe(1);
  });
});

describe("drawDevice", () => {
  it("says what is seen, draws at rest as dashes where the motion is exaggerated, and is the same each time", () => {
    const svg = drawDevice(chip, { ...request, caseName: "pushed", exaggeration: 20, points: ["tip", "head right"] });
    expect(svg).toContain("motion 20 times; dashed: at rest");
    expect(svg).toContain('stroke-dasharray="4 3"');
    expect(svg).toContain(">head right<");
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    expect(drawDevice(chip, { ...request, caseName: "pushed", exaggeration: 20, points: ["tip", "head right"] })).toBe(svg);
  });
  it("names every point once, those of one place together", () => {
    const svg = drawDevice(chip, { ...request, points: "all" });
    expect(svg).toContain(">tip, head left<");
    expect(svg.match(/<circle/g)).toHaveLength(new Set(svg.match(/<circle [^>]*>/g)).size);
  });
  it("takes the colours of the light it is given", () => {
    expect(drawDevice(chip, { ...request, tokens: night })).toContain(night.glass);
    expect(drawDevice(chip, request)).not.toContain(night.glass);
  });
  it.each([
    [{ points: ["tipp"] }, 'The nearest is "tip"'],
    [{ caseName: "worm" }, 'The nearest is "warm"'],
    [{ caseName: "run" }, 'The case "run" has steps'],
    [{ caseName: "crushed" }, "Cannot draw arm at crushed"],
    [{ exaggeration: 20 }, "Cannot exaggerate a motion without a case"],
    [{ exaggeration: -1 }, "write a number above 0"],
    [{ device: "leg" }, '"leg" is not a device of this chip'],
  ])("refuses %o", (change, sentence) => {
    expect(() => drawDevice(chip, { ...request, ...change })).toThrow(sentence);
  });
});
