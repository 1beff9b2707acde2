import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rectangle } from "#geometry";
import { GdsiiError } from "./gdsii-error.ts";
import { parseGdsii } from "./gdsii-read.ts";
import { formatGdsii } from "./gdsii-write.ts";
import type { Library } from "./library.ts";

const date = { year: 2026, month: 11, day: 25, hour: 9, minute: 30, second: 0 };

const library: Library = {
  name: "PLATES",
  cells: [
    {
      name: "TOP",
      shapes: [{ layer: 4, datatype: 0, polygons: [rectangle({ left: 0, bottom: 0, right: 1000, top: 2000 })] }],
      labels: [{ layer: 21, texttype: 0, text: "LEAFGATE R1", at: [5, 5] }],
      placements: [
        { cell: "PAD", at: [7, 8], rotation: 0.3, magnification: 2, mirrored: true },
        {
          cell: "PAD",
          at: [7, 8],
          rotation: 0,
          magnification: 1,
          mirrored: false,
          array: { columns: 3, rows: 4, columnStep: [150, 0], rowStep: [0, 150] },
        },
      ],
    },
    {
      name: "PAD",
      shapes: [{ layer: 3, datatype: 1, polygons: [rectangle({ left: -50, bottom: -50, right: 50, top: 50 })] }],
      labels: [],
      placements: [],
    },
  ],
};
const good = formatGdsii(library, { date });

/** Points and names that came out, which must not outgrow the file. */
function sizeRead(bytes: Uint8Array): number {
  const { library: read } = parseGdsii(bytes);
  return read.cells
    .flatMap((cell) => cell.shapes.flatMap((shape) => shape.polygons))
    .reduce((sum, polygon) => sum + polygon.length, 0);
}

/** True if the file was refused the way it should be; throws on any other failure. */
function isRefused(bytes: Uint8Array): boolean {
  try {
    // A path of two points with round ends gives at most 36 points a half disc: 72 pairs for at least 60 bytes.
    expect(sizeRead(bytes)).toBeLessThanOrEqual(4 * bytes.length);
    return false;
  } catch (error) {
    if (!(error instanceof GdsiiError)) throw error;
    expect(error.offset).toBeGreaterThanOrEqual(0);
    expect(error.offset).toBeLessThanOrEqual(bytes.length);
    expect(error.message).toMatch(/^Cannot read the stream file at byte \d+: .+[^.]$/);
    return true;
  }
}

describe("broken stream files", () => {
  it("cut short anywhere are refused with the offset of the record that is not whole", () => {
    for (let length = 0; length < good.length; length++) expect(isRefused(good.slice(0, length)), `cut at ${length}`).toBe(true);
    expect(isRefused(good)).toBe(false);
  });

  it("with bytes changed at random are read or refused, never anything else", () => {
    const change = fc.record({ at: fc.nat({ max: good.length - 1 }), to: fc.nat({ max: 255 }) });
    let nRefused = 0;
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 6 }), fc.option(fc.nat({ max: good.length })), (changes, cut) => {
        const bytes = good.slice(0, cut ?? good.length);
        for (const { at, to } of changes) if (at < bytes.length) bytes[at] = to;
        if (isRefused(bytes)) nRefused++;
      }),
      { seed: 24, numRuns: 3000 },
    );
    // Most changes hit something that is checked; if nearly none did, the reader would not be looking.
    expect(nRefused).toBeGreaterThan(1500);
  });

  it("of any bytes at all are refused", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        expect(isRefused(bytes)).toBe(true);
      }),
      { seed: 25, numRuns: 500 },
    );
  });

  it("say in one sentence what is wrong", () => {
    const changed = (at: number, to: number): Uint8Array => {
      const bytes = good.slice();
      bytes[at] = to;
      return bytes;
    };
    expect(() => parseGdsii(changed(2, 0x3f))).toThrow(
      "Cannot read the stream file at byte 0: found a record of unknown type 63",
    );
    expect(() => parseGdsii(changed(1, 7))).toThrow("byte 0: wanted an even record length of at least 4, found 7");
    expect(() => parseGdsii(new Uint8Array(0))).toThrow("byte 0: the file ends before ENDLIB");
    const padded = new Uint8Array(good.length + 100);
    padded.set(good);
    expect(parseGdsii(padded).library.cells.length).toBe(2);
    padded[good.length + 7] = 1;
    expect(() => parseGdsii(padded)).toThrow(`byte ${good.length + 7}: wanted nothing but padding after ENDLIB`);
  });

  it("with a long chain of cells is read without exhausting the stack", () => {
    const nCells = 20_000;
    const cells = Array.from({ length: nCells }, (_, i) => ({
      name: `C${i}`,
      shapes: [],
      labels: [],
      placements:
        i + 1 < nCells ? [{ cell: `C${i + 1}`, at: [0, 0] as const, rotation: 0, magnification: 1, mirrored: false }] : [],
    }));
    expect(parseGdsii(formatGdsii({ name: "DEEP", cells }, { date })).library.cells.length).toBe(nCells);
  });
});
