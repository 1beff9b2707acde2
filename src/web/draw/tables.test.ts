import { expect, test } from "vitest";
import type { DeviceView } from "#devices";
import type { CurvePlot } from "#workbench";
import { tableOfMode, tableOfPlot, tableOfView } from "./tables.ts";

test("a picture's table has a row for each station of a body and each piece of a beam", () => {
  const view: DeviceView = {
    bodies: [
      {
        name: "blade",
        kind: "plate",
        outlines: [],
        field: {
          from: { x: 0, y: 0 },
          to: { x: 2, y: 4 },
          shares: Float64Array.of(0, 0.5, 1),
          temperatures: Float64Array.of(300, 310, 320),
        },
      },
    ],
    beams: [
      { name: 'a "stem"', line: Float64Array.of(0, 0, 2, 0, 4, 0), widths: [1, 1], temperatures: Float64Array.of(400, 410) },
    ],
    stops: [],
    points: new Map(),
  };
  expect(tableOfView(view)).toBe(
    'part,x (m),y (m),temperature (K)\n"blade",0,0,300\n"blade",1,2,310\n"blade",2,4,320\n"a ""stem""",1,0,400\n"a ""stem""",3,0,410\n',
  );
});

test("a mode's table has a row for each point, with its motion for a largest of 1", () => {
  const bar = { name: "bar", widths: [1, 1], points: Float64Array.of(0, 0, 3, 0), lifts: Float64Array.of(0, 0) } as const;
  const beams = [{ ...bar, moves: Float64Array.of(0, 0, 0, -4) }];
  expect(tableOfMode({ family: "in plane", frequency: 1, unrest: 1, largest: 4, beams, bodies: [] })).toBe(
    'part,x (m),y (m),motion x,motion y,motion z\n"bar",0,0,0,0,0\n"bar",3,0,0,-1,0\n',
  );
});

test("a plot's table has its lines one after the other; what is no number is an empty cell", () => {
  const plot: CurvePlot = {
    title: "travel",
    x: { name: "hold pads", unit: "V", factor: 1 },
    y: { name: "travel", unit: "µm", factor: 1e-6 },
    curves: [
      { kind: "as drawn", x: Float64Array.of(0, 1), y: Float64Array.of(0, 2) },
      { kind: "as built", x: Float64Array.of(0), y: Float64Array.of(Number.NaN) },
    ],
    handle: undefined,
    perDigit: 1,
    metric: undefined,
  };
  expect(tableOfPlot(plot)).toBe(
    '"hold pads (V), as drawn","travel (µm), as drawn"\n0,0\n1,2\n\n"hold pads (V), as built","travel (µm), as built"\n0,\n',
  );
});
