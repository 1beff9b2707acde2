/**
 * Damping, springs and noise of the gas through the user's text.
 * Squeezed films: Bao, Analysis and Design Principles of MEMS Devices (2005); Blech, J. Lubr. Tech. 105 (1983) 615. Sliding: Cho, Pisano &
 * Howe, JMEMS 3 (1994) 81. Rarefied: Veijola et al., Sensors and Actuators A 48 (1995) 239. Noise: Gabrielson, IEEE Trans. Electron
 * Devices 40 (1993) 903. All from memory; numbers computed independently for these checks (series, closed forms).
 */
import { describe, expect, it } from "vitest";
import { type Chip, metricRequest } from "#chip";
import { findGas, gasDensity, meanFreePath } from "#materials";
import { cylinderAtWallDrag, cylinderDrag, effectiveFilmViscosity, tiltingFilm } from "#physics";
import { askMetric, bareChip, plainMaterial } from "./chip-text.ts";

const um = 1e-6;
const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const air = findGas("air")!;
const T = 300;
const atmosphere = 101325;
const viscosity = air.viscosity.at(T);

interface PlateText {
  /** [um] */
  readonly width: number;
  readonly height: number;
  readonly gap: number;
  readonly pressure?: number;
  readonly more?: string;
  readonly rest?: string;
}

const still = "still: { uniform rise: 0 K }";

/** A plate without mass over the glass, its middle held unless something else holds it. */
const plateOver = ({ width, height, gap, pressure = atmosphere, more = "", rest }: PlateText): Chip =>
  bareChip({
    materials: plainMaterial({ E: "160 GPa" }),
    silicon: "material: plain",
    thickness: "10 um",
    process: `gap under silicon: ${gap} um`,
    gas: `gas: air, pressure: ${pressure} Pa`,
    temperature: `${T} K`,
    device: `is: composition
points: { middle: { x: 0 um, y: 0 um } }
parts:
  plate: { is: plate, at: middle, width: ${width} um, height: ${height} um${more} }
${rest ?? "  hold: { is: support, at: middle, holds: [x, y, turn, z] }"}
heat loss: none
roots: rigid`,
    cases: still,
  });

const onPlate = (chip: Chip, word: string, frequency: number): number =>
  askMetric(chip, word, { where: "plate", argument: frequency });

/** So slow that no gas is compressed, [Hz]. */
const slow = 1e-3;

describe("a plate that comes down on its film", () => {
  // real edges lengthen the film by 1.3 gaps: plates are drawn shorter by that, so that the film has the size of the table
  it.each([
    [400, 400, 0.4217310449],
    [400, 200, 0.6860450314],
    [400, 40, 0.9369751124],
  ])("%d by %d um, without compression: f mu L W^3/h^3, f = %d", (length, width, f) => {
    const gap = 2;
    const chip = plateOver({ width: length - 1.3 * gap, height: width - 1.3 * gap, gap });
    const thin = effectiveFilmViscosity(air, { T, pressure: atmosphere, gap: gap * um });
    const wanted = (f * thin * length * um * (width * um) ** 3) / (gap * um) ** 3;
    expect(errorOf(onPlate(chip, "gas damping along z", slow), wanted)).toBeLessThan(1e-6);
  });

  it.each([
    [1, 0.03505889, 0.00169819],
    [10, 0.28330785, 0.13579686],
    [20, 0.36445809, 0.33908884],
    [100, 0.2315727, 0.71733149],
  ])("square, compressed, at the squeeze number %d: damping %d and spring %d of p A/h", (sigma, damping, spring) => {
    const [gap, side] = [2 * um, 400 * um];
    const chip = plateOver({ width: 397.4, height: 397.4, gap: 2 });
    const thin = effectiveFilmViscosity(air, { T, pressure: atmosphere, gap });
    const omega = (sigma * atmosphere * gap ** 2) / (12 * thin * side ** 2);
    const unit = (atmosphere * side ** 2) / gap;
    // the published series lacks 1e-5 of its tail
    expect(errorOf((omega * onPlate(chip, "gas damping along z", omega / (2 * Math.PI))) / unit, damping)).toBeLessThan(1e-5);
    expect(errorOf(onPlate(chip, "gas stiffness along z", omega / (2 * Math.PI)) / unit, spring)).toBeLessThan(1e-5);
  });

  it.each([
    [2, 0.8393396446],
    [1, 0.7005598675],
  ])("a gap of %d um at a mean free path of 68 nm: the gas is thinner by %d", (gap, factor) => {
    const pressure = (atmosphere * meanFreePath(air, { T, pressure: atmosphere })) / 68e-9;
    const chip = plateOver({ width: 400 - 1.3 * gap, height: 400 - 1.3 * gap, gap, pressure });
    const bulk = (0.4217310449 * viscosity * (400 * um) ** 4) / (gap * um) ** 3;
    expect(errorOf(onPlate(chip, "gas damping along z", slow) / bulk, factor)).toBeLessThan(1e-6);
  });

  it("loses little damping to few slits and most of it to many holes", () => {
    const at = (more: string): number =>
      onPlate(plateOver({ width: 400, height: 400, gap: 2, more }), "gas damping along z", slow);
    const closed = at("");
    expect(at(", holes: { columns: 4, rows: 4, side: 0.5 um, pitch: 90 um }") / closed).toBeGreaterThan(0.9);
    expect(at(", holes: { columns: 18, rows: 18, side: 8 um, pitch: 20 um }") / closed).toBeLessThan(0.05);
    expect(at(", slits: { count: 15, width: 8 um, pitch: 20 um, lengths: 1, length: 350 um }") / closed).toBeLessThan(0.05);
  });
});

it("a plate that slides over its film: mu q coth(q d) below with slip, sqrt(mu rho omega/2) above", () => {
  const [gap, side, frequency] = [2 * um, 400 * um, 1e4];
  const chip = plateOver({ width: 400, height: 400, gap: 2 });
  const density = gasDensity(air, { T, pressure: atmosphere });
  const depth = Math.sqrt((2 * viscosity) / (density * 2 * Math.PI * frequency));
  const x = (2 * gap) / depth;
  const film = ((viscosity / depth) * (Math.sinh(x) + Math.sin(x))) / (Math.cosh(x) - Math.cos(x));
  const slip = 1 / (1 + (2 * meanFreePath(air, { T, pressure: atmosphere })) / gap);
  const wanted = side ** 2 * (film * slip + viscosity / depth);
  for (const axis of ["x", "y"])
    expect(errorOf(onPlate(chip, `gas damping along ${axis}`, frequency), wanted)).toBeLessThan(1e-9);
});

describe("Gabrielson's mass of 1 ug on a spring of 5 kHz at 300 K", () => {
  const stiffness = 1e-9 * (2 * Math.PI * 5e3) ** 2;
  const massOn = (side: number): Chip =>
    plateOver({
      width: side,
      height: side,
      gap: 2,
      rest: `  hold: { is: support, at: middle, holds: [turn, z] }
  spring: { is: spring, at: middle, x: ${stiffness} N/m, y: ${1e4 * stiffness} N/m }
  load: { is: lump, at: middle, mass: 1 ug }`,
    });
  const damping = onPlate(massOn(100), "gas damping along x", 5e3);
  // as large a plate as makes Q = 50
  const chip = massOn(100 * Math.sqrt((1e-9 * 2 * Math.PI * 5e3) / 50 / damping));
  it("has its frequency and quality", () => {
    expect(errorOf(askMetric(chip, "resonance", { argument: 1 }), 5e3)).toBeLessThan(1e-9);
    expect(errorOf(askMetric(chip, "quality factor", { argument: 1 }), 50)).toBeLessThan(1e-9);
  });
  it("trembles by 64.78170827 pm and tells no acceleration below 1.020286637e-4 m/s^2 in 1 Hz", () => {
    expect(errorOf(askMetric(chip, "thermal motion along x", { where: "middle" }), 6.478170827e-11)).toBeLessThan(1e-9);
    expect(errorOf(askMetric(chip, "acceleration noise", { argument: 1 }), 1.020286637e-4)).toBeLessThan(1e-9);
    expect(errorOf(askMetric(chip, "acceleration noise", { argument: 100 }), 1.020286637e-3)).toBeLessThan(1e-9);
  });
});

describe("modes", () => {
  const beam = (gap: number, pressure: string): Chip =>
    bareChip({
      materials: plainMaterial({ E: "160 GPa", density: "2330 kg/m^3" }),
      silicon: "material: plain",
      thickness: "6 um",
      process: `gap under silicon: ${gap} um`,
      gas: `gas: air, pressure: ${pressure}`,
      temperature: `${T} K`,
      device: "is: straight bar\nlength: 800 um\nwidth: 4 um\nanchors: ideal\nheat loss: none",
      cases: still,
    });
  // an even beam: rho A omega/c whatever its mode
  const inertia = 2330 * 24e-12;
  const radius = (10 * um) / Math.PI;
  const omegaOf = (chip: Chip, mode: number): number => 2 * Math.PI * askMetric(chip, "resonance", { argument: mode });

  it.each([15, 1.5, 0.5])(
    "of a beam %d um above the glass: Stokes's cylinder, or Jeffrey and Onishi's at a wall where that drags more",
    (gap) => {
      const chip = beam(gap, "101325 Pa");
      const wall = cylinderAtWallDrag({ radius, gap: gap * um, viscosity });
      // thinner in the plane than out of it: the first mode is there, the second out of it
      for (const [mode, atWall] of [
        [1, wall.alongWall],
        [2, wall.towardsWall],
      ] as const) {
        const angularFrequency = omegaOf(chip, mode);
        const gas = { viscosity, density: gasDensity(air, { T, pressure: atmosphere }), angularFrequency };
        const free = cylinderDrag(gas, { radius, meanFreePath: meanFreePath(air, { T, pressure: atmosphere }) }).damping;
        expect(free > atWall).toBe(gap === 15);
        // below a quarter of its width the beam is on a film
        if (gap === 0.5) continue;
        const wanted = (inertia * angularFrequency) / Math.max(free, atWall);
        // the cubic between nodes of eight elements
        expect(errorOf(askMetric(chip, "quality factor", { argument: mode }), wanted)).toBeLessThan(2e-4);
      }
    },
  );
  it("of a plate that tilts on torsion bars", () => {
    const [side, gap, t] = [200 * um, 6 * um, 10 * um];
    const chip = bareChip({
      materials: plainMaterial({ E: "160 GPa", density: "2330 kg/m^3" }),
      silicon: "material: plain",
      thickness: "10 um",
      process: "gap under silicon: 6 um",
      gas: "gas: air, pressure: 101325 Pa",
      temperature: `${T} K`,
      device: `is: composition
points:
  middle: { x: 0 um, y: 0 um }
  upper: { x: 0 um, y: 130 um }
  lower: { x: 0 um, y: -130 um }
parts:
  plate: { is: plate, at: middle, width: 200 um, height: 200 um }
  upper bar: { is: beam, from: upper, to: plate top, width: 2 um }
  lower bar: { is: beam, from: lower, to: plate bottom, width: 2 um }
  upper wall: { is: support, at: upper, holds: [x, y, turn, z] }
  lower wall: { is: support, at: lower, holds: [x, y, turn, z] }
heat loss: none
roots: rigid`,
      cases: still,
    });
    const omega = omegaOf(chip, 1);
    const film = {
      length: side + 1.3 * gap,
      width: side + 1.3 * gap,
      gap,
      viscosity: effectiveFilmViscosity(air, { T, pressure: atmosphere, gap }),
    };
    const { damping } = tiltingFilm(film, { vibration: { angularFrequency: omega, pressure: atmosphere } });
    const moment = (2330 * side ** 2 * t * (side ** 2 + t ** 2)) / 12;
    // the bars add 1e-5 of inertia and less damping
    expect(errorOf(askMetric(chip, "quality factor", { argument: 1 }), (moment * omega) / damping)).toBeLessThan(1e-3);
  });
});

describe("what is not told", () => {
  const reasonOf = (chip: Chip, word: string, at: { where?: string; argument?: number }): string | undefined => {
    const { value, reason } = chip.side("drawn").valueOf(metricRequest(chip, word, at));
    expect(value).toBeNaN();
    return reason;
  };
  it("damping in vacuum, of a plate above no film, and in gas too thin to slide by slip", () => {
    const vacuum = bareChip({
      materials: plainMaterial({ E: "160 GPa", density: "2330 kg/m^3" }),
      silicon: "material: plain",
      thickness: "6 um",
      device: "is: straight bar\nlength: 800 um\nwidth: 4 um\nanchors: ideal\nheat loss: none",
      cases: still,
    });
    expect(reasonOf(vacuum, "quality factor", { argument: 1 })).toContain("in vacuum no gas damps it");
    const high = plateOver({ width: 50, height: 50, gap: 40 });
    expect(reasonOf(high, "gas damping along z", { where: "plate", argument: 100 })).toContain("thin film");
    const thin = plateOver({ width: 400, height: 400, gap: 2, pressure: 1000 });
    expect(reasonOf(thin, "gas damping along x", { where: "plate", argument: 100 })).toContain("Knudsen number");
    const fast = plateOver({ width: 400, height: 400, gap: 2 });
    expect(reasonOf(fast, "gas damping along z", { where: "plate", argument: 1e7 })).toContain("depth of viscous waves");
  });
});
