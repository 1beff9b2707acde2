import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  areaOf,
  boundingBox,
  comparePolygonSets,
  counterClockwise,
  differenceOf,
  findSelfCrossing,
  polygonFrom,
  rectangle,
  signedArea,
} from "#geometry";
import { compareLibraries } from "./compare.ts";
import { parseGdsii } from "./gdsii-read.ts";
import { formatGdsii } from "./gdsii-write.ts";
import { type Cell, flattenCell, type Library, type Placement } from "./library.ts";
import { real8FromNumber } from "./real8.ts";

const date = { year: 2026, month: 11, day: 25, hour: 9, minute: 30, second: 0 };

const coordinate = fc.integer({ min: -1_000_000_000, max: 1_000_000_000 });
const small = fc.integer({ min: -100_000, max: 100_000 });

const polygons = fc
  .array(
    fc
      .array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 6 })
      .map((points) => counterClockwise(polygonFrom(points.flat()))),
    { maxLength: 5 },
  )
  .map((list) => list.filter((polygon) => signedArea(polygon) > 0 && findSelfCrossing(polygon) === undefined));

const label = fc.record({
  layer: fc.integer({ min: 0, max: 255 }),
  texttype: fc.integer({ min: 0, max: 255 }),
  text: fc.string({ maxLength: 30 }),
  at: fc.tuple(coordinate, coordinate),
});

const array = fc.record({
  columns: fc.integer({ min: 1, max: 9 }),
  rows: fc.integer({ min: 1, max: 9 }),
  columnStep: fc.tuple(small, small),
  rowStep: fc.tuple(small, small),
});

function placementOf(cell: string): fc.Arbitrary<Placement> {
  const fields = {
    cell: fc.constant(cell),
    at: fc.tuple(small, small),
    rotation: fc.integer({ min: 0, max: 359 }).map((degrees) => (degrees * Math.PI) / 180),
    magnification: fc.constantFrom(1, 0.5, 3),
    mirrored: fc.boolean(),
  };
  return fc.oneof(fc.record(fields), fc.record({ ...fields, array }));
}

/** Libraries of three cells, where each may place the ones after it. */
const libraries: fc.Arbitrary<Library> = fc
  .tuple(
    ...[["B", "C"], ["C"], []].map((below, i) =>
      fc.record({
        name: fc.constant("ABC"[i]!),
        shapes: fc.uniqueArray(fc.record({ layer: fc.integer({ min: 0, max: 255 }), datatype: fc.constant(0), polygons }), {
          selector: (s) => s.layer,
          maxLength: 3,
        }),
        labels: fc.array(label, { maxLength: 3 }),
        placements: below.length === 0 ? fc.constant([]) : fc.array(fc.oneof(...below.map(placementOf)), { maxLength: 3 }),
      }),
    ),
  )
  .map((cells) => ({ name: "PLATES", cells: cells as readonly Cell[] }));

function cellOf(shapes: Cell["shapes"], more: Partial<Cell> = {}): Library {
  return { name: "LIB", cells: [{ name: "TOP", shapes, labels: [], placements: [], ...more }] };
}

const square = rectangle({ left: 0, bottom: 0, right: 10_000, top: 10_000 });

describe("stream file round trip", () => {
  it("brings back every polygon, label and placement of random libraries", () => {
    fc.assert(
      fc.property(libraries, (library) => {
        const { library: back, skipped } = parseGdsii(formatGdsii(library, { date }));
        expect(back.name).toBe("PLATES");
        expect(back.cells.map((cell) => cell.shapes)).toEqual(
          library.cells.map((cell) => cell.shapes.filter((shape) => shape.polygons.length > 0)),
        );
        expect(compareLibraries(library, back)).toEqual([]);
        expect(skipped).toEqual({ nodes: 0, boxes: 0, properties: 0, boundariesWithoutArea: 0 });
      }),
      { seed: 22, numRuns: 80 },
    );
  });

  it("writes the same bytes again from what it has read", () => {
    fc.assert(
      fc.property(libraries, (library) => {
        const bytes = formatGdsii(parseGdsii(formatGdsii(library, { date })).library, { date });
        expect(formatGdsii(parseGdsii(bytes).library, { date })).toEqual(bytes);
      }),
      { seed: 23, numRuns: 40 },
    );
  });

  it("splits holes and long outlines without changing the region", () => {
    const wavy = Int32Array.from(
      Array.from({ length: 6000 }, (_, i) => {
        const angle = (2 * Math.PI * i) / 6000;
        const radius = 1e6 + 5e4 * Math.cos(40 * angle);
        return [Math.round(radius * Math.cos(angle)), Math.round(radius * Math.sin(angle))];
      }).flat(),
    );
    const withHole = differenceOf([wavy], [rectangle({ left: -1000, bottom: -1000, right: 1000, top: 1000 })]);
    for (const [strict, most] of [
      [false, 4000],
      [true, 199],
    ] as const) {
      const back = parseGdsii(formatGdsii(cellOf([{ layer: 4, datatype: 0, polygons: withHole }]), { date, strict })).library
        .cells[0]!.shapes[0]!.polygons;
      expect(Math.max(...back.map((polygon) => polygon.length / 2))).toBeLessThanOrEqual(most);
      // Each piece's cut moves a slanting edge by half a unit at most; edges are 1 um long and there are few cuts.
      expect(comparePolygonSets(back, withHole)).toBeLessThanOrEqual(back.length * 2 * 1100);
    }
  });
});

describe("bytes of a stream file", () => {
  it("are those of the format, record by record", () => {
    const bytes = formatGdsii(cellOf([{ layer: 4, datatype: 7, polygons: [polygonFrom([0, 0, 256, 0, -1, 2])] }]), { date });
    const stamp = "07ea000b00190009001e0000".repeat(2);
    // Written out by hand from the format (rubin1987, from memory).
    const byHand = [
      "000600020258",
      `001c0102${stamp}`,
      "000802064c494200",
      "001403053e4189374bc6a7f03944b82fa09b5a54",
      `001c0502${stamp}`,
      "00080606544f5000",
      "00040800",
      "00060d020004",
      "00060e020007",
      "002410030000000000000000" + "0000010000000000" + "ffffffff00000002" + "0000000000000000",
      "00041100",
      "00040700",
      "00040400",
    ].join("");
    const expected = Uint8Array.from(byHand.match(/../g)!, (pair) => Number.parseInt(pair, 16));
    // The last byte of a real may differ by up to 3: a double holds three bits less than the format.
    const inRealTail = (i: number): boolean => i === 6 + 28 + 8 + 11 || i === 6 + 28 + 8 + 19;
    expect(bytes.length).toBe(expected.length);
    bytes.forEach((byte, i) => {
      if (inRealTail(i)) expect(Math.abs(byte - expected[i]!)).toBeLessThanOrEqual(3);
      else expect([i, byte]).toEqual([i, expected[i]]);
    });
  });
});

/** One record as bytes, for files that the writer does not write. */
function record(type: number, data: number, payload: readonly number[] = []): readonly number[] {
  const length = payload.length + 4;
  return [length >> 8, length & 255, type, data, ...payload];
}

const int16 = (...values: number[]): readonly number[] => values.flatMap((value) => [(value >> 8) & 255, value & 255]);
const int32 = (...values: number[]): readonly number[] =>
  values.flatMap((value) => [(value >> 24) & 255, (value >> 16) & 255, (value >> 8) & 255, value & 255]);
const text = (value: string): readonly number[] =>
  [...value, ...(value.length % 2 === 0 ? "" : "\0")].map((c) => c.charCodeAt(0));

function fileWith(
  elements: readonly (readonly number[])[],
  unit: readonly number[] = [0x39, 0x44, 0xb8, 0x2f, 0xa0, 0x9b, 0x5a, 0x54],
): Uint8Array {
  return Uint8Array.from(
    [
      record(0, 2, int16(5)),
      record(1, 2, int16(...new Array<number>(12).fill(1))),
      record(2, 6, text("L")),
      record(3, 5, [0x3e, 0x41, 0x89, 0x37, 0x4b, 0xc6, 0xa7, 0xf0, ...unit]),
      record(5, 2, int16(...new Array<number>(12).fill(1))),
      record(6, 6, text("TOP")),
      ...elements,
      record(7, 0),
      record(4, 0),
    ].flat(),
  );
}

function path(
  type: number | undefined,
  width: number,
  extra: readonly (readonly number[])[] = [],
): readonly (readonly number[])[] {
  return [
    record(9, 0),
    record(13, 2, int16(1)),
    record(14, 2, int16(0)),
    ...(type === undefined ? [] : [record(0x21, 2, int16(type))]),
    record(15, 3, int32(width)),
    ...extra,
    record(16, 3, int32(0, 0, 10_000, 0)),
    record(17, 0),
  ];
}

describe("elements that are read but not written", () => {
  const boxOfPath = (elements: readonly (readonly number[])[]) =>
    boundingBox(parseGdsii(fileWith(elements)).library.cells[0]!.shapes[0]!.polygons);

  it("PATH with flush, round, extended and custom ends", () => {
    expect(boxOfPath(path(undefined, 400))).toEqual({ left: 0, bottom: -200, right: 10_000, top: 200 });
    expect(boxOfPath(path(1, 400))).toEqual({ left: -200, bottom: -200, right: 10_200, top: 200 });
    expect(boxOfPath(path(2, -400))).toEqual({ left: -200, bottom: -200, right: 10_200, top: 200 });
    expect(boxOfPath(path(4, 400, [record(0x30, 3, int32(50)), record(0x31, 3, int32(-30))]))).toEqual({
      left: -50,
      bottom: -200,
      right: 9970,
      top: 200,
    });
    const round = parseGdsii(fileWith(path(1, 400))).library.cells[0]!.shapes[0]!.polygons;
    // Chords within 0.2 of the arc, points within 0.71 of it, along a rim of 2 pi r.
    expect(Math.abs(areaOf(round) - (4e6 + Math.PI * 200 ** 2))).toBeLessThan(2 * Math.PI * 200 * 0.91);
  });

  it("NODE, BOX and properties are counted and left out", () => {
    const { library, skipped } = parseGdsii(
      fileWith([
        record(0x15, 0),
        record(13, 2, int16(1)),
        record(0x2a, 2, int16(0)),
        record(16, 3, int32(0, 0)),
        record(17, 0),
        record(0x2d, 0),
        record(13, 2, int16(1)),
        record(0x2e, 2, int16(0)),
        record(16, 3, int32(0, 0, 1, 0, 1, 1, 0, 1, 0, 0)),
        record(0x2b, 2, int16(3)),
        record(0x2c, 6, text("note")),
        record(17, 0),
      ]),
    );
    expect(library.cells[0]!.shapes).toEqual([]);
    expect(skipped).toEqual({ nodes: 1, boxes: 1, properties: 1, boundariesWithoutArea: 0 });
  });

  it("a database unit of 5 nm is brought to 1 nm; one of 0.3 nm is refused where it misses the grid", () => {
    const five = [0x3a, 0x15, 0x79, 0x8e, 0xe2, 0x30, 0x8c, 0x3a];
    expect(boundingBox(parseGdsii(fileWith(path(0, 400), five)).library.cells[0]!.shapes[0]!.polygons)).toEqual({
      left: 0,
      bottom: -1000,
      right: 50_000,
      top: 1000,
    });
    const pointThree = Array.from(real8FromNumber(0.3e-9));
    expect(() => parseGdsii(fileWith(path(0, 401), pointThree))).toThrow(/WIDTH: wanted a multiple of 1 nm, found 120\.3/);
  });
});

describe("flattenCell", () => {
  it("mirrors, then magnifies and turns, then moves, then repeats", () => {
    const leaf: Cell = {
      name: "LEAF",
      shapes: [{ layer: 4, datatype: 0, polygons: [polygonFrom([0, 0, 10, 0, 0, 4])] }],
      labels: [],
      placements: [],
    };
    const place: Placement = {
      cell: "LEAF",
      at: [100, 0],
      rotation: Math.PI / 2,
      magnification: 2,
      mirrored: true,
      array: { columns: 2, rows: 1, columnStep: [1000, 0], rowStep: [0, 0] },
    };
    const flat = flattenCell(
      { name: "LIB", cells: [{ name: "TOP", shapes: [], labels: [], placements: [place] }, leaf] },
      { cell: "TOP", mostPolygons: 10 },
    );
    // (10,0) -> (10,0) -> (20,0) -> (0,20) -> (100,20); (0,4) -> (0,-4) -> (0,-8) -> (8,0) -> (108,0)
    const first = counterClockwise(polygonFrom([100, 0, 100, 20, 108, 0]));
    expect(comparePolygonSets(flat[0]!.polygons, [first, first.map((value, i) => (i % 2 === 0 ? value + 1000 : value))])).toBe(0);
    expect(() =>
      flattenCell(
        { name: "LIB", cells: [{ name: "TOP", shapes: [], labels: [], placements: [place] }, leaf] },
        { cell: "TOP", mostPolygons: 3 },
      ),
    ).toThrow("wanted at most 3");
  });
});

describe("the writer refuses", () => {
  it.each([
    [
      "a self-crossing polygon",
      cellOf([{ layer: 1, datatype: 0, polygons: [polygonFrom([0, 0, 10, 10, 10, 0, 0, 30])] }]),
      "crosses itself after its point (0, 0)",
    ],
    [
      "a layer out of range",
      cellOf([{ layer: 40_000, datatype: 0, polygons: [square] }]),
      "wanted a layer between 0 and 32767, found 40000",
    ],
    ["a name with a blank", cellOf([], { name: "MY CELL" }), 'Cannot write cell "MY CELL"'],
    [
      "a label with a control sign",
      cellOf([], { labels: [{ layer: 1, texttype: 0, text: "a\nb", at: [0, 0] }] }),
      "printable ASCII",
    ],
    [
      "a missing cell",
      cellOf([], { placements: [{ cell: "GONE", at: [0, 0], rotation: 0, magnification: 1, mirrored: false }] }),
      "it places cell GONE, which is not in the library",
    ],
    [
      "a cell in itself",
      cellOf([], { placements: [{ cell: "TOP", at: [0, 0], rotation: 0, magnification: 1, mirrored: false }] }),
      "which contains it",
    ],
  ])("%s", (_, library, sentence) => {
    expect(() => formatGdsii(library, { date })).toThrow(sentence);
  });

  it("a layer above 255 in strict mode only, and an impossible date", () => {
    const library = cellOf([{ layer: 300, datatype: 0, polygons: [square] }]);
    expect(() => formatGdsii(library, { date, strict: true })).toThrow("between 0 and 255, found 300");
    expect(parseGdsii(formatGdsii(library, { date })).library.cells[0]!.shapes[0]!.layer).toBe(300);
    expect(() => formatGdsii(library, { date: { ...date, month: 13 } })).toThrow("13 is out of range");
  });
});

describe("compareLibraries", () => {
  it("names what differs and by how much", () => {
    const a = cellOf([{ layer: 4, datatype: 0, polygons: [square] }]);
    const b = cellOf([{ layer: 4, datatype: 0, polygons: [rectangle({ left: 0, bottom: 0, right: 10_000, top: 9_000 })] }], {
      labels: [{ layer: 1, texttype: 0, text: "x", at: [0, 0] }],
    });
    expect(compareLibraries(a, b)).toEqual([
      { kind: "shape", cell: "TOP", layer: 4, datatype: 0, area: 10_000 * 1000 },
      { kind: "labels", cell: "TOP" },
    ]);
    expect(compareLibraries(a, { name: "L", cells: [] })).toEqual([{ kind: "cell missing", cell: "TOP", missingFrom: "second" }]);
  });
});
