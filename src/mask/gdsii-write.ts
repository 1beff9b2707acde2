/**
 * Writing GDSII stream files.
 *
 * Written: one library, version 600, database unit 1 nm, user unit 1 um; BOUNDARY, SREF, AREF and TEXT. Polygons with holes or with too
 * many points are cut into simple ones first; the region stays the same. Refused: self-crossing polygons, layers and datatypes out
 * of range, names outside the charset A-Z a-z 0-9 _ ? $ or longer than 32 characters, placements of cells that are not there.
 * Limits: 4000 points a polygon (199 in strict mode), layers to 32767 (255 in strict mode), 32767 columns and rows, labels of 512
 * printable ASCII characters, a record of 65534 bytes, angles kept to 1e-9 degree. The date is the caller's: there is no clock here.
 * Format: rubin1987 (start READ, rest FROM MEMORY). Main test: gdsii.test.ts (round trip of random libraries, byte patterns).
 */
import {
  counterClockwise,
  countPoints,
  decomposePolygons,
  findSelfCrossing,
  largestDbu,
  metresPerDbu,
  type Polygon,
  roundToDbu,
  signedArea,
} from "#geometry";
import { type RecordName, recordTypes } from "./gdsii-records.table.ts";
import { type Cell, findPlacementFault, type Label, type Library, type Placement, type Shape } from "./library.ts";
import { real8FromNumber } from "./real8.ts";

export interface GdsiiDate {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
}

export interface GdsiiWriteOptions {
  /** Written as the time of last change and of last access. */
  readonly date: GdsiiDate;
  /** True for the oldest readers: 199 points a polygon, layers and datatypes up to 255. */
  readonly strict?: boolean;
}

const longestLabel = 512;

/** Grows by doubling, so the work stays linear in the size of the file. */
class RecordWriter {
  private bytes = new Uint8Array(4096);
  private length = 0;

  private room(size: number): DataView {
    if (this.length + size > this.bytes.length) {
      const grown = new Uint8Array(Math.max(2 * this.bytes.length, this.length + size));
      grown.set(this.bytes);
      this.bytes = grown;
    }
    const view = new DataView(this.bytes.buffer, this.length, size);
    this.length += size;
    return view;
  }

  private record(name: RecordName, size: number): DataView {
    const view = this.room(size + 4);
    view.setUint16(0, size + 4);
    view.setUint8(2, recordTypes[name][0]);
    view.setUint8(3, recordTypes[name][1]);
    return new DataView(view.buffer, view.byteOffset + 4, size);
  }

  mark(name: RecordName): void {
    this.record(name, 0);
  }

  shorts(name: RecordName, values: readonly number[]): void {
    const view = this.record(name, 2 * values.length);
    values.forEach((value, i) => {
      view.setInt16(2 * i, value);
    });
  }

  integers(name: RecordName, values: ArrayLike<number>): void {
    const view = this.record(name, 4 * values.length);
    for (let i = 0; i < values.length; i++) view.setInt32(4 * i, values[i]!);
  }

  reals(name: RecordName, values: readonly number[]): void {
    const view = this.record(name, 8 * values.length);
    values.forEach((value, i) => {
      real8FromNumber(value).forEach((byte, k) => {
        view.setUint8(8 * i + k, byte);
      });
    });
  }

  text(name: RecordName, value: string): void {
    const view = this.record(name, value.length + (value.length % 2));
    for (let i = 0; i < value.length; i++) view.setUint8(i, value.charCodeAt(i));
  }

  finish(): Uint8Array {
    return this.bytes.slice(0, this.length);
  }
}

/** Structure names that every reader takes. */
export function isStructureName(name: string): boolean {
  return /^[A-Za-z0-9_?$]{1,32}$/.test(name);
}

function checkName(name: string, what: "cell" | "library"): void {
  if (!isStructureName(name)) {
    throw new RangeError(`Cannot write ${what} "${name}": wanted 1 to 32 characters of A-Z a-z 0-9 _ ? $`);
  }
}

function checkNumber(value: number, options: { what: string; cell: string; most: number }): void {
  if (!Number.isInteger(value) || value < 0 || value > options.most) {
    throw new RangeError(
      `Cannot write cell ${options.cell}: wanted a ${options.what} between 0 and ${options.most}, found ${value}`,
    );
  }
}

function checkText(text: string, cell: string): void {
  if (text.length > longestLabel || !/^[ -~]*$/.test(text)) {
    throw new RangeError(
      `Cannot write a label of cell ${cell}: wanted at most ${longestLabel} printable ASCII characters, found "${text.slice(0, 60)}"`,
    );
  }
}

function checkPoint(point: readonly [number, number], cell: string): void {
  for (const value of point) {
    if (!Number.isInteger(value) || Math.abs(value) > largestDbu) {
      throw new RangeError(`Cannot write cell ${cell}: wanted whole database units within ${largestDbu}, found ${value}`);
    }
  }
}

/** The polygons to write: as they are where they are simple and short enough, cut otherwise. */
function writablePolygons(shape: Shape, options: { cell: string; mostPoints: number }): readonly Polygon[] {
  for (const polygon of shape.polygons) {
    const crossing = findSelfCrossing(polygon);
    if (crossing !== undefined) {
      const [a] = crossing;
      throw new RangeError(
        `Cannot write cell ${options.cell}: a polygon on layer ${shape.layer} crosses itself after its point (${polygon[2 * a]}, ${polygon[2 * a + 1]})`,
      );
    }
  }
  const simple = shape.polygons.every((polygon) => signedArea(polygon) > 0 && countPoints(polygon) <= options.mostPoints);
  return simple ? shape.polygons : decomposePolygons(shape.polygons, options).map(counterClockwise);
}

function writeShape(writer: RecordWriter, shape: Shape, options: { cell: string; mostPoints: number }): void {
  for (const polygon of writablePolygons(shape, options)) {
    writer.mark("BOUNDARY");
    writer.shorts("LAYER", [shape.layer]);
    writer.shorts("DATATYPE", [shape.datatype]);
    const closed = new Int32Array(polygon.length + 2);
    closed.set(polygon);
    closed.set(polygon.subarray(0, 2), polygon.length);
    writer.integers("XY", closed);
    writer.mark("ENDEL");
  }
}

function writeLabel(writer: RecordWriter, label: Label): void {
  writer.mark("TEXT");
  writer.shorts("LAYER", [label.layer]);
  writer.shorts("TEXTTYPE", [label.texttype]);
  writer.integers("XY", label.at);
  writer.text("STRING", label.text);
  writer.mark("ENDEL");
}

function degreesFromRadians(radians: number): number {
  const degrees = Math.round((radians * 180e9) / Math.PI) / 1e9;
  return ((degrees % 360) + 360) % 360;
}

function writePlacement(writer: RecordWriter, placement: Placement, { cell }: { cell: string }): void {
  const { array, at } = placement;
  if (!(placement.magnification > 0))
    throw new RangeError(`Cannot write cell ${cell}: wanted a positive magnification, found ${placement.magnification}`);
  writer.mark(array === undefined ? "SREF" : "AREF");
  writer.text("SNAME", placement.cell);
  const degrees = degreesFromRadians(placement.rotation);
  if (placement.mirrored || placement.magnification !== 1 || degrees !== 0) {
    writer.shorts("STRANS", [placement.mirrored ? -0x8000 : 0]);
    if (placement.magnification !== 1) writer.reals("MAG", [placement.magnification]);
    if (degrees !== 0) writer.reals("ANGLE", [degrees]);
  }
  if (array === undefined) {
    checkPoint(at, cell);
    writer.integers("XY", at);
  } else {
    for (const n of [array.columns, array.rows]) {
      if (!Number.isInteger(n) || n < 1 || n > 32767)
        throw new RangeError(`Cannot write cell ${cell}: wanted 1 to 32767 columns and rows, found ${n}`);
    }
    // The second and third point are one step beyond the last column and row.
    const beyond = (n: number, step: readonly [number, number]) =>
      [roundToDbu(at[0] + n * step[0]), roundToDbu(at[1] + n * step[1])] as const;
    const columnEnd = beyond(array.columns, array.columnStep);
    const rowEnd = beyond(array.rows, array.rowStep);
    checkPoint(at, cell);
    writer.shorts("COLROW", [array.columns, array.rows]);
    writer.integers("XY", [...at, ...columnEnd, ...rowEnd]);
  }
  writer.mark("ENDEL");
}

function writeCell(writer: RecordWriter, cell: Cell, options: GdsiiWriteOptions): void {
  const strict = options.strict === true;
  const most = strict ? 255 : 32767;
  checkName(cell.name, "cell");
  writer.shorts("BGNSTR", twiceDate(options.date));
  writer.text("STRNAME", cell.name);
  for (const shape of cell.shapes) {
    checkNumber(shape.layer, { what: "layer", cell: cell.name, most });
    checkNumber(shape.datatype, { what: "datatype", cell: cell.name, most });
    writeShape(writer, shape, { cell: cell.name, mostPoints: strict ? 199 : 4000 });
  }
  for (const label of cell.labels) {
    checkNumber(label.layer, { what: "layer", cell: cell.name, most });
    checkNumber(label.texttype, { what: "text type", cell: cell.name, most });
    checkText(label.text, cell.name);
    checkPoint(label.at, cell.name);
    writeLabel(writer, label);
  }
  for (const placement of cell.placements) writePlacement(writer, placement, { cell: cell.name });
  writer.mark("ENDSTR");
}

function twiceDate(date: GdsiiDate): readonly number[] {
  const once = [date.year, date.month, date.day, date.hour, date.minute, date.second];
  const most = [32767, 12, 31, 23, 59, 60];
  once.forEach((value, i) => {
    if (!Number.isInteger(value) || value < 0 || value > most[i]!)
      throw new RangeError(`Cannot write the date ${once.join(" ")}: ${value} is out of range`);
  });
  return [...once, ...once];
}

/** The library as the bytes of a stream file. */
export function formatGdsii(library: Library, options: GdsiiWriteOptions): Uint8Array {
  checkName(library.name, "library");
  const fault = findPlacementFault(library);
  if (fault !== undefined) throw new RangeError(`Cannot write cell ${fault.cell}: ${fault.fault}`);
  const writer = new RecordWriter();
  writer.shorts("HEADER", [600]);
  writer.shorts("BGNLIB", twiceDate(options.date));
  writer.text("LIBNAME", library.name);
  writer.reals("UNITS", [1e-3, metresPerDbu]);
  for (const cell of library.cells) writeCell(writer, cell, options);
  writer.mark("ENDLIB");
  return writer.finish();
}
