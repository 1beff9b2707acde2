import { describe, expect, it } from "vitest";
import { sheetEntryResistance } from "./sheet-entry.ts";
import { spreadingResistance } from "./spreading.ts";

const sheet = {
  depth: 1e-3,
  width: 1.2e-3,
  sheetConductance: 120 * 40e-6,
  baseResistance: 195,
  entry: { middle: 0.6e-3, length: 1e-4 },
};

describe("entry of heat into a sheet", () => {
  it("is a fin where the whole edge is entered", () => {
    const found = sheetEntryResistance({ ...sheet, entry: { middle: 0.6e-3, length: 1.2e-3 } });
    const rate = 1 / Math.sqrt(sheet.sheetConductance * sheet.depth * sheet.width * sheet.baseResistance);
    const fin = 1 / (Math.tanh(rate * sheet.depth) * sheet.sheetConductance * rate * sheet.width);
    expect(Math.abs(found / fin - 1)).toBeLessThan(1e-12);
  });

  it("is the base alone where the sheet conducts without end", () => {
    // What is left is of the order 1/(sheet conductance): 1e-6 of the base.
    expect(Math.abs(sheetEntryResistance({ ...sheet, sheetConductance: 1e5 }) / sheet.baseResistance - 1)).toBeLessThan(1e-6);
  });

  it("is 390 K/W for silicon of 40 um on glass of 0.5 mm, as a finite-volume model finds", () => {
    const base = spreadingResistance(
      {
        length: 5e-3,
        width: 5e-3,
        thickness: 0.5e-3,
        conductivity: 1.15,
        volumetricHeatCapacity: 1.85e6,
        baseFilm: Number.POSITIVE_INFINITY,
      },
      { x: 1.2e-3, y: 2.5e-3, length: 1e-3, width: 1.2e-3 },
    );
    // Independent three-dimensional finite volumes of glass and silicon, entry of 100 um: bounds 382.2-400.5 at cells of 25 um,
    // 386.8-394.1 at 17 um; the middle of the finer pair, with its half width.
    const found = sheetEntryResistance({ ...sheet, baseResistance: base.isothermal });
    expect(Math.abs(found - 390.4)).toBeLessThan(3.7);
  });

  it("grows as the entry narrows and as it moves to a corner", () => {
    const at = (middle: number, length: number) => sheetEntryResistance({ ...sheet, entry: { middle, length } });
    // Narrowing to a half adds (ln 2/pi) of a square.
    const square = 1 / sheet.sheetConductance;
    expect(Math.abs((at(0.6e-3, 2e-5) - at(0.6e-3, 4e-5)) / ((Math.LN2 / Math.PI) * square) - 1)).toBeLessThan(2e-3);
    expect(at(0.05e-3, 1e-4)).toBeGreaterThan(at(0.6e-3, 1e-4) * 1.2);
  });

  it("refuses an entry off the edge", () => {
    expect(() => sheetEntryResistance({ ...sheet, entry: { middle: 0.01e-3, length: 1e-4 } })).toThrow(RangeError);
    expect(() => sheetEntryResistance({ ...sheet, sheetConductance: 0 })).toThrow(RangeError);
  });
});
