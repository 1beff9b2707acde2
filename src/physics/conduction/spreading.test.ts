import { describe, expect, it } from "vitest";
import {
  type SpreadingPlate,
  type SpreadingSource,
  spreadingResistance,
  spreadingResistances,
  spreadingStep,
} from "./spreading.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const everywhere = Number.POSITIVE_INFINITY;

/** A die of borosilicate glass on a heat sink, with one anchor of 1.0 × 1.2 mm. */
const die: SpreadingPlate = {
  length: 5e-3,
  width: 5e-3,
  thickness: 0.5e-3,
  conductivity: 1.15,
  volumetricHeatCapacity: 2230 * 830,
  baseFilm: everywhere,
};
const anchor: SpreadingSource = { x: 1.2e-3, y: 2.5e-3, length: 1e-3, width: 1.2e-3 };

/** The double cosine series, summed term by term: [muzychka2003] (from memory), film at the base. Cut where n waves fit on the source. */
function seriesResistance(plate: SpreadingPlate, from: SpreadingSource, to: SpreadingSource): number {
  const { length, width, thickness, conductivity: k, baseFilm: film } = plate;
  const nTerms = 700;
  const mean = (wave: number, middle: number, size: number): number => {
    const half = (wave * size) / 2;
    return half === 0 ? 1 : (Math.cos(wave * middle) * Math.sin(half)) / half;
  };
  let sum = 0;
  for (let m = 0; m < nTerms; m++) {
    const wx = (m * Math.PI) / length;
    const along = mean(wx, from.x, from.length) * mean(wx, to.x, to.length) * (m === 0 ? 1 : 2);
    for (let n = 0; n < nTerms; n++) {
      const wy = (n * Math.PI) / width;
      const across = mean(wy, from.y, from.width) * mean(wy, to.y, to.width) * (n === 0 ? 1 : 2);
      const wave = Math.hypot(wx, wy);
      const tanh = Math.tanh(wave * thickness);
      const response =
        wave === 0
          ? thickness / k + 1 / film
          : (film === everywhere ? tanh : (k * wave + film * tanh) / (k * wave * tanh + film)) / (k * wave);
      sum += along * across * response;
    }
  }
  return sum / (length * width);
}

describe("steady resistance", () => {
  it("agrees with the double cosine series", () => {
    const other = { x: 3.9e-3, y: 1e-3, length: 0.8e-3, width: 2e-3 };
    for (const plate of [die, { ...die, baseFilm: 500 }, { ...die, length: 8e-3, thickness: 2e-3, baseFilm: 3e4 }]) {
      const found = spreadingResistances(plate, [anchor, other]);
      // The series cut at 700 lacks (length/(pi source))²/(2 × 700²) of its own square sum: 2e-5.
      expect(relative(found[0]!, seriesResistance(plate, anchor, anchor))).toBeLessThan(3e-5);
      expect(relative(found[1]!, seriesResistance(plate, anchor, other))).toBeLessThan(1e-4);
      expect(found[1]).toBe(found[2]);
    }
  });

  it("is the slab where the source covers the plate", () => {
    const whole = { x: 2.5e-3, y: 2.5e-3, length: 5e-3, width: 5e-3 };
    const slab = 0.5e-3 / (1.15 * 25e-6);
    // Both idealisations meet: 1e-9 is the error of the octaves.
    expect(relative(spreadingResistance(die, whole).uniform, slab)).toBeLessThan(1e-7);
    expect(relative(spreadingResistance(die, whole).isothermal, slab)).toBeLessThan(1e-7);
    expect(relative(spreadingResistance({ ...die, baseFilm: 500 }, whole).uniform, slab + 1 / (500 * 25e-6))).toBeLessThan(1e-7);
  });

  it("tends to thickness/(k area) on a plate thin against the source", () => {
    const thickness = 2e-5;
    const { uniform, isothermal } = spreadingResistance({ ...die, thickness }, anchor);
    const slab = thickness / (1.15 * 1.2e-6);
    expect(uniform / slab).toBeGreaterThan(0.97);
    expect(uniform / slab).toBeLessThan(1);
    // Edge of a sheet at one temperature over a plane, flush with the plane's insulation: each side is longer by (2 ln 2/pi) thickness,
    // here 3.3 % in all; corners add the square of that. The nested rectangles err on the high side, by up to 0.9 %.
    const longer = ((4 * Math.LN2) / Math.PI) * thickness;
    const exact = thickness / (1.15 * (1e-3 + longer) * (1.2e-3 + longer));
    expect(isothermal / exact).toBeGreaterThan(0.999);
    expect(isothermal / exact).toBeLessThan(1.006);
  });

  describe("on a half space", () => {
    const side = 1;
    const deep = 2000;
    const plate = {
      length: 40000,
      width: 40000,
      thickness: deep,
      conductivity: 1,
      volumetricHeatCapacity: 1,
      baseFilm: everywhere,
    };
    const square = { x: 20000, y: 20000, length: side, width: side };
    // The base at finite depth takes ln 2/(2 pi k depth) off: images of alternating sign at 2 depth, 4 depth, ...
    const base = Math.LN2 / (2 * Math.PI * deep);

    it("uniform: mean 0.4732010044, middle 0.5610998524 of q a/k", () => {
      expect(relative(spreadingResistance(plate, square).uniform + base, 0.4732010044)).toBeLessThan(1e-6);
      const point = { x: 20000, y: 20000, length: 1e-3, width: 1e-3 };
      // A point of a thousandth of the side: the middle is flat to the square of that.
      expect(relative(spreadingResistances(plate, [square, point])[1]! + base, 0.5610998524)).toBeLessThan(1e-5);
    });

    it("isothermal: half the capacitance of a square plate, 0.3667896 × 4 pi a [read1997]", () => {
      const exact = 1 / (2 * Math.PI * 0.3667896);
      const found = spreadingResistance(plate, square).isothermal + base;
      // Thomson's principle: never below; nine nested rectangles come within half a per cent.
      expect(found).toBeGreaterThan(exact);
      expect(relative(found, exact)).toBeLessThan(5e-3);
      // Uniform flux is 9.1 % higher; a disc, 8/(3 pi² k a) against 1/(4 k a), 8.1 %.
      expect(Math.abs(0.4732010044 / exact - 1.0906)).toBeLessThan(1e-4);
      expect(Math.abs(8 / (3 * Math.PI ** 2) / 0.25 - 1.0808)).toBeLessThan(1e-4);
    });
  });

  it("lies between one temperature and even flux, and rises towards the edge of the plate", () => {
    const at = (x: number) => spreadingResistance(die, { ...anchor, x });
    for (const x of [0.5e-3, 1.2e-3, 2.5e-3]) expect(at(x).isothermal).toBeLessThan(at(x).uniform);
    expect(at(0.5e-3).uniform).toBeGreaterThan(at(0.7e-3).uniform);
    expect(at(0.7e-3).uniform).toBeGreaterThan(at(2.5e-3).uniform);
  });

  it("gives 218 K/W for the anchor on glass, as a finite-volume model does", () => {
    // Independent three-dimensional finite volumes: 219.07, 218.50, 217.75 K/W at cells of 50, 25, 17 um (cells along the depth
    // 10, 10, 16); what is left falls with the square of the cell. One per cent covers both.
    expect(relative(spreadingResistance(die, anchor).uniform, 217.5)).toBeLessThan(0.01);
  });

  it("refuses what has no answer", () => {
    expect(() => spreadingResistance({ ...die, baseFilm: 0 }, anchor)).toThrow(RangeError);
    expect(() => spreadingResistance({ ...die, thickness: 0 }, anchor)).toThrow(/thickness/);
    expect(() => spreadingResistance(die, { ...anchor, x: 0.4e-3 })).toThrow(/on the plate/);
    expect(() => spreadingResistance(die, { ...anchor, width: Number.NaN })).toThrow(RangeError);
    expect(() => spreadingStep(die, { source: anchor, times: [-1] })).toThrow(RangeError);
    expect(() => spreadingStep({ ...die, volumetricHeatCapacity: 0 }, { source: anchor, times: [1] })).toThrow(/heat capacity/);
  });
});

describe("warm-up", () => {
  it("is that of a semi-infinite solid under constant flux: 69.52726723 K after 60 s", () => {
    const k = 43;
    const plate = {
      length: 1,
      width: 1,
      thickness: 0.5,
      conductivity: k,
      volumetricHeatCapacity: k / 1.17e-5,
      baseFilm: everywhere,
    };
    const whole = { x: 0.5, y: 0.5, length: 1, width: 1 };
    // Reference: 2 q sqrt(a t/pi)/k, ten digits.
    expect(relative(1e5 * spreadingStep(plate, { source: whole, times: [60] })[0]!, 69.52726723)).toBeLessThan(1e-9);
  });

  it("of a plate over a film ends as the convecting slab does", () => {
    // Slab of half thickness H in a film, symmetric: after the step of power the rest to steady decays with the first root of y tan y = 1.
    const plate = { length: 1, width: 1, thickness: 1, conductivity: 1, volumetricHeatCapacity: 1, baseFilm: 1 };
    const whole = { x: 0.5, y: 0.5, length: 1, width: 1 };
    const [early, late, steady] = spreadingStep(plate, { source: whole, times: [4, 5, everywhere] });
    const root = 0.8603335890193798;
    expect(steady!).toBeCloseTo(2, 6);
    expect(relative(Math.log((2 - early!) / (2 - late!)), root * root)).toBeLessThan(1e-6);
  });

  it("starts with the square root of time over the source, from 0.1 ms down within the edges' share", () => {
    for (const time of [1e-8, 1e-7, 1e-6]) {
      const root =
        (2 * Math.sqrt(time / (Math.PI * die.conductivity * die.volumetricHeatCapacity))) / (anchor.length * anchor.width);
      const found = spreadingStep(die, { source: anchor, times: [time] })[0]!;
      // Heat beside the edges: from the integral of (1 - 2 s/(sqrt(pi) a)) (1 - 2 s/(sqrt(pi) b)), to the square of the share.
      const spread = Math.sqrt((die.conductivity / die.volumetricHeatCapacity) * time);
      const edges = (spread / Math.sqrt(Math.PI)) * (1 / anchor.length + 1 / anchor.width);
      expect(Math.abs(found / root - 1 + edges)).toBeLessThan(edges ** 2);
    }
  });

  it("rises ever more slowly and ends at the steady resistance", () => {
    const times = [1e-4, 3e-3, 0.02, 0.3];
    const plate = { ...die, baseFilm: 500 };
    const at = (t: number) => spreadingStep(plate, { source: anchor, times: [t] })[0]!;
    for (const t of times) {
      expect(at(t * 1.01)).toBeGreaterThan(at(t));
      expect((at(t * 1.01) - at(t)) / 0.01).toBeLessThan((at(t) - at(t * 0.99)) / 0.01);
    }
    expect(relative(at(everywhere), spreadingResistance(plate, anchor).uniform)).toBeLessThan(1e-12);
    expect(at(0)).toBe(0);
  });

  it("does not see a jump between panels", () => {
    const spread = (s: number) => (s * s * die.volumetricHeatCapacity) / die.conductivity;
    for (let i = 0; i < 8; i++) {
      const edge = (0.5e-3 / 24) * 2 ** i;
      const [before, after] = spreadingStep(die, {
        source: anchor,
        times: [spread(edge * (1 - 1e-7)), spread(edge * (1 + 1e-7))],
      });
      expect(relative(after!, before!)).toBeLessThan(1e-6);
    }
  });

  it("of another source starts later and ends at the mutual resistance", () => {
    const to = { ...anchor, x: 3.8e-3 };
    const [early, late] = spreadingStep({ ...die, baseFilm: 500 }, { source: anchor, to, times: [1e-3, everywhere] });
    expect(early!).toBeLessThan(1e-9 * late!);
    expect(relative(late!, spreadingResistances({ ...die, baseFilm: 500 }, [anchor, to])[1]!)).toBeLessThan(1e-9);
  });

  it("differs from a hand-made finite-volume model of glass and silicon by one constant, the silicon's share", () => {
    // The model's 138, 200, 276 and 300 K/W at 10, 50, 250 ms and steady hold the spread inside the silicon, which settles within a
    // millisecond. Its cells of a tenth of a millimetre and the glass's conductivity of 1.1-1.2 leave a few per cent.
    const found = spreadingStep(die, { source: anchor, times: [0.01, 0.05, 0.25, everywhere] });
    const silicon = 80;
    [138, 200, 276, 300].forEach((wanted, i) => {
      expect(relative(found[i]! + silicon, wanted)).toBeLessThan(0.03);
    });
    // The same die on a film of 500 W/(m² K), both anchors at one watt: 540 K/W each. Window of the model: 15 %.
    const onFilm = spreadingResistances({ ...die, baseFilm: 500 }, [anchor, { ...anchor, x: 3.8e-3 }]);
    expect(relative(onFilm[0]! + onFilm[1]! + silicon, 540)).toBeLessThan(0.15);
  });
});
