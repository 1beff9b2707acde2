/** Outlines of beams where they join bodies and each other, and the fillets in their roots, against closed forms. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaOf, type Polygon, polygonFromOutline, squareMetresFromDbu, unionOf } from "#geometry";
import { outlinesOf } from "./outlines.ts";
import type { BeamPart, Drawing, Part, PlatePart } from "./part.ts";
import { ownPlace, placeFromOwn } from "./slab.ts";

const um = 1e-6;

function drawingOf(parts: readonly Part[]): Drawing {
  return {
    parts,
    points: new Map(),
    output: undefined,
    light: undefined,
    heatLoss: "none",
    rootsGive: true,
    neighbours: "shared" as const,
    trench: undefined,
  };
}

function beam(name: string, line: readonly number[], rest: { width: number; fillet?: number }): BeamPart {
  return {
    kind: "beam",
    name,
    isLeg: false,
    line: Float64Array.from(line, (value) => value * um),
    widths: [rest.width * um, rest.width * um],
    fillet: (rest.fillet ?? 0) * um,
    hinged: [false, false],
  };
}

function block(at: readonly [number, number], size: { width: number; height: number; turn?: number }): PlatePart {
  return {
    kind: "plate",
    name: "block",
    slab: { centre: { x: at[0] * um, y: at[1] * um }, width: size.width * um, height: size.height * um, turn: size.turn ?? 0 },
    bends: false,
    slits: undefined,
    holes: undefined,
    spine: "y",
    leak: 0,
    isShuttle: false,
  };
}

/** Area of the union of the outlines, [um^2]. */
function unionArea(drawing: Drawing): number {
  const polygons = outlinesOf(drawing).map((outline) => polygonFromOutline(outline.polygon));
  return squareMetresFromDbu(areaOf(unionOf(polygons))) / um ** 2;
}

/** Area by the shoelace formula, [um^2], positive where counter-clockwise. */
function shoelace(polygon: Float64Array): number {
  let twice = 0;
  const n = polygon.length;
  for (let i = 0; i < n; i += 2) twice += polygon[i]! * polygon[(i + 3) % n]! - polygon[(i + 2) % n]! * polygon[i + 1]!;
  return twice / 2 / um ** 2;
}

/** Area between two edges that meet at `angle` and an arc of radius r that touches both: two kites less a sector. */
const filletArea = (radius: number, angle: number): number => radius ** 2 * (1 / Math.tan(angle / 2) - (Math.PI - angle) / 2);

describe("fillets of a beam's roots", () => {
  const sampled = fc.record({
    radius: fc.double({ min: 0.5, max: 6, noNaN: true }),
    width: fc.double({ min: 2, max: 12, noNaN: true }),
    tilt: fc.double({ min: -0.6, max: 0.6, noNaN: true }),
    turn: fc.double({ min: -3, max: 3, noNaN: true }),
  });

  /** A beam that leaves the right edge of a turned block under a tilt and ends in the air. */
  function rooted({ radius, width, tilt, turn }: { radius: number; width: number; tilt: number; turn: number }) {
    const plate = block([30, -20], { width: 60, height: 100, turn });
    const slab = { ...plate.slab, centre: { x: 30, y: -20 }, width: 60, height: 100 };
    const root = placeFromOwn(slab, { x: 30, y: 0 });
    const tip = placeFromOwn(slab, { x: 30 + 80 * Math.cos(tilt), y: 80 * Math.sin(tilt) });
    const arm = beam("arm", [root.x, root.y, tip.x, tip.y], { width, fillet: radius });
    return { drawing: drawingOf([plate, arm]), plate };
  }

  it("stand on both sides of the root, counter-clockwise", () => {
    fc.assert(
      fc.property(sampled, (values) => {
        const { drawing, plate } = rooted(values);
        const found = outlinesOf(drawing).filter((outline) => outline.part === "arm");
        // the beam itself and one fillet a side at the one root
        expect(found).toHaveLength(3);
        const webs = found.slice(1).map((outline) => outline.polygon);
        for (const web of webs) expect(shoelace(web)).toBeGreaterThan(0);
        // every web ends on the block's edge, on its own side of the root
        const ends = webs.map((web) =>
          Array.from({ length: web.length / 2 }, (_, i) => ownPlace(plate.slab, { x: web[2 * i]!, y: web[2 * i + 1]! })).filter(
            (place) => Math.abs(place.x - 30 * um) < 1e-12,
          ),
        );
        expect(ends.map((places) => places.length)).toEqual([1, 1]);
        const half = values.width / 2 / Math.cos(values.tilt);
        const asides = ends.map((places) => places[0]!.y / um).sort((a, b) => a - b);
        expect(asides[0]).toBeLessThan(-half);
        expect(asides[1]).toBeGreaterThan(half);
      }),
      { seed: 21, numRuns: 60 },
    );
  });

  it("fill the corner up to an arc that touches beam and body: the union gains the areas of the closed form", () => {
    fc.assert(
      fc.property(sampled, fc.boolean(), (sample, turned) => {
        const values = turned ? sample : { ...sample, turn: 0 };
        const gained = unionArea(rooted(values).drawing) - unionArea(rooted({ ...values, radius: 0 }).drawing);
        const { radius, tilt, width } = values;
        const exact = filletArea(radius, Math.PI / 2 + tilt) + filletArea(radius, Math.PI / 2 - tilt);
        // chords of an arc lie inside it: each web is larger by at most two thirds of the 5 nm sagitta along its arc, half a turn together
        const chords = (2 / 3) * 0.005 * Math.PI * radius;
        // 0.71 nm of rounding along arcs and tangents, under 10 radii together
        const rounding = 0.00071 * 10 * radius;
        // new corners on the rounded slanted edges of beam and block tilt those edges by up to 0.71 nm over their length
        const edges = tilt === 0 && !turned ? 0 : 0.00071 * (160 + 100 + width);
        expect(gained - exact).toBeLessThan(chords + rounding + edges);
        expect(gained - exact).toBeGreaterThan(-rounding - edges);
      }),
      { seed: 22, numRuns: 40 },
    );
  });

  it("stand at both ends of a beam between two bodies, and not at a joint of beams", () => {
    const ends = [block([-30, 0], { width: 60, height: 80 }), block([130, 0], { width: 60, height: 80 })];
    const between = drawingOf([...ends, beam("arm", [0, 0, 100, 0], { width: 6, fillet: 3 })]);
    expect(outlinesOf(between).filter((outline) => outline.part === "arm")).toHaveLength(5);
    const jointed = drawingOf([
      ends[0]!,
      beam("arm", [0, 0, 100, 0], { width: 6, fillet: 3 }),
      beam("shin", [100, 0, 100, 50], { width: 6, fillet: 3 }),
    ]);
    expect(outlinesOf(jointed).filter((outline) => outline.part === "arm")).toHaveLength(3);
    expect(outlinesOf(jointed).filter((outline) => outline.part === "shin")).toHaveLength(1);
  });
});

describe("joints of beams", () => {
  it("keep the silicon of both middle lines at every angle up to a right one, where both are equally wide", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: Math.PI / 2, noNaN: true }),
        fc.double({ min: 2, max: 12, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (bend, width, turn) => {
          const knee = [80 * Math.cos(turn), 80 * Math.sin(turn)] as const;
          const tip = [knee[0] + 60 * Math.cos(turn + bend), knee[1] + 60 * Math.sin(turn + bend)] as const;
          const drawing = drawingOf([beam("thigh", [0, 0, ...knee], { width }), beam("shin", [...knee, ...tip], { width })]);
          // 1 nm grid: at most 0.71 nm along the outline of 280 um and the ends
          expect(Math.abs(unionArea(drawing) - 140 * width)).toBeLessThan(0.00071 * (2 * 140 + 2 * width));
        },
      ),
      { seed: 23, numRuns: 60 },
    );
  });

  it("are square corners at a right angle, for any two widths", () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 20 }), fc.integer({ min: 2, max: 20 }), (a, b) => {
        const drawing = drawingOf([beam("thigh", [0, 0, 80, 0], { width: a }), beam("shin", [80, 0, 80, 60], { width: b })]);
        // on the grid, so nothing is rounded: both middle lines' areas make up the corner
        expect(unionArea(drawing)).toBeCloseTo(80 * a + 60 * b, 9);
      }),
      { seed: 24, numRuns: 40 },
    );
  });

  it("leave beams in line their lengths: a wide one does not take from a narrow one", () => {
    const drawing = drawingOf([beam("flexure", [0, 0, 40, 0], { width: 2 }), beam("cold arm", [240, 0, 40, 0], { width: 14 })]);
    expect(unionArea(drawing)).toBeCloseTo(40 * 2 + 200 * 14, 9);
    // one piece: the narrow one reaches into the wide one
    const polygons: readonly Polygon[] = unionOf(outlinesOf(drawing).map((outline) => polygonFromOutline(outline.polygon)));
    expect(polygons).toHaveLength(1);
  });

  it("fill the corner of a bent pair without size between its legs", () => {
    const [length, tilt, width] = [500, 0.1, 6];
    const [x, y] = [length * Math.cos(tilt), length * Math.sin(tilt)];
    const drawing = drawingOf([beam("left", [-x, -y, 0, 0], { width }), beam("right", [x, -y, 0, 0], { width })]);
    const polygons = unionOf(outlinesOf(drawing).map((outline) => polygonFromOutline(outline.polygon)));
    expect(polygons).toHaveLength(1);
    // the outer mitre stands half a width over the middle lines, divided by the cosine of the tilt
    const top = Math.max(...Array.from(polygons[0]!).filter((_, i) => i % 2 === 1));
    expect(top / 1000).toBeCloseTo(width / 2 / Math.cos(tilt), 2);
  });
});

describe("beams that reach into bodies", () => {
  it("leave no seam, and take nothing of the body", () => {
    fc.assert(
      fc.property(fc.double({ min: -0.5, max: 0.5, noNaN: true }), fc.double({ min: 2, max: 12, noNaN: true }), (tilt, width) => {
        const drawing = drawingOf([
          block([-30, 0], { width: 60, height: 100 }),
          beam("arm", [0, 0, 80 * Math.cos(tilt), 80 * Math.sin(tilt)], { width }),
        ]);
        const polygons = outlinesOf(drawing).map((outline) => polygonFromOutline(outline.polygon));
        expect(unionOf(polygons)).toHaveLength(1);
        // edges of the beam meet the block's edge at different places, whose mean is the middle line's; 0.71 nm along the outline
        expect(Math.abs(unionArea(drawing) - (6000 + 80 * width))).toBeLessThan(0.00071 * (320 + 160));
      }),
      { seed: 25, numRuns: 40 },
    );
  });

  it("stop within a body that is thinner than their usual reach", () => {
    const drawing = drawingOf([block([0.5, 0], { width: 1, height: 40 }), beam("arm", [0, 0, -50, 0], { width: 4 })]);
    const right = Math.max(...outlinesOf(drawing)[1]!.polygon.filter((_, i) => i % 2 === 0));
    expect(right).toBeCloseTo(0.5 * um, 12);
  });
});
