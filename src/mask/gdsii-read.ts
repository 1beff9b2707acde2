/**
 * Reading GDSII stream files.
 *
 * Read: BOUNDARY, PATH (flush, round, half-width and custom ends; mitred bends), SREF, AREF, TEXT. Counted but not kept: NODE, BOX,
 * properties, boundaries without area. Coordinates are brought to the 1 nm grid: a file on another unit is read if every
 * coordinate falls on that grid, refused otherwise. Boundaries come out counter-clockwise; one that crosses itself is kept as it stands
 * (`findSelfCrossing` of #geometry tells). Refused with one sentence and a byte offset: broken or unknown records, records out of place,
 * names outside A-Z a-z 0-9 _ ? $, negative layers, absolute magnification or angle, cells that are missing, double, or contain each other.
 * Limits: widths marked absolute are taken as they are, which differs if such a path is placed magnified; round ends are chords
 * within 1/1000 of the half width. Time and memory grow linearly with the file; arrays are kept as arrays.
 * Format: rubin1987 (start READ, rest FROM MEMORY). Main tests: gdsii.test.ts, gdsii-broken.test.ts.
 */
import { counterClockwise, largestDbu, metresPerDbu, type Polygon, signedArea, strokePolygons } from "#geometry";
import { GdsiiError } from "./gdsii-error.ts";
import type { RecordName } from "./gdsii-records.table.ts";
import { RecordReader, type StreamRecord } from "./gdsii-records.ts";
import { type Cell, findPlacementFault, type Label, type Library, type Placement, type Shape } from "./library.ts";

/** Things that a file holds and a library does not, by number. */
export interface GdsiiSkipped {
  readonly nodes: number;
  readonly boxes: number;
  readonly properties: number;
  readonly boundariesWithoutArea: number;
}

export interface GdsiiReading {
  readonly library: Library;
  readonly skipped: GdsiiSkipped;
}

type Skipped = { -readonly [K in keyof GdsiiSkipped]: number };

interface Context {
  /** Grid units of 1 nm in one unit of the file. */
  readonly scale: number;
  readonly skipped: Skipped;
}

/** Records between the start of an element and its ENDEL, each kind at most once. */
class Element {
  private readonly records = new Map<RecordName, StreamRecord>();

  constructor(
    readonly start: StreamRecord,
    private readonly context: Context,
  ) {}

  add(record: StreamRecord): void {
    if (this.records.has(record.name)) record.fail(`it comes twice in one ${this.start.name}`);
    this.records.set(record.name, record);
  }

  find(name: RecordName): StreamRecord | undefined {
    return this.records.get(name);
  }

  need(name: RecordName): StreamRecord {
    const record = this.records.get(name);
    if (record === undefined) this.start.fail(`wanted ${name} before ENDEL, found none`);
    return record;
  }

  /** A number that may not be negative: layers and types. */
  index(name: RecordName): number {
    const record = this.need(name);
    const value = record.short();
    if (value < 0) record.fail(`wanted a number from 0 to 32767, found ${value}`);
    return value;
  }

  onGrid(value: number, record: StreamRecord): number {
    const scaled = value * this.context.scale;
    const whole = Math.round(scaled);
    if (Math.abs(scaled - whole) > 1e-6) record.fail(`wanted a multiple of 1 nm, found ${scaled} nm`);
    if (Math.abs(whole) > largestDbu) record.fail(`wanted a coordinate within ${largestDbu} nm, found ${scaled} nm`);
    return whole;
  }

  /** Points of the XY record on the 1 nm grid. */
  points(range: { least: number; most: number }): Int32Array {
    const record = this.need("XY");
    const values = record.integers();
    if (values.length % 2 !== 0) record.fail(`wanted pairs of coordinates, found ${values.length} values`);
    const n = values.length / 2;
    if (n < range.least || n > range.most)
      record.fail(`wanted ${range.least === range.most ? range.least : `at least ${range.least}`} points, found ${n}`);
    for (let i = 0; i < values.length; i++) values[i] = this.onGrid(values[i]!, record);
    return values;
  }

  length(name: RecordName): number {
    const record = this.find(name);
    return record === undefined ? 0 : this.onGrid(record.integer(), record);
  }
}

/** Records that an element may hold besides its own; what they say is not used. */
const idleInElement: readonly RecordName[] = ["ELFLAGS", "PLEX"];

const inElement: Readonly<Partial<Record<RecordName, readonly RecordName[]>>> = {
  BOUNDARY: ["LAYER", "DATATYPE", "XY"],
  PATH: ["LAYER", "DATATYPE", "PATHTYPE", "WIDTH", "BGNEXTN", "ENDEXTN", "XY"],
  SREF: ["SNAME", "STRANS", "MAG", "ANGLE", "XY"],
  AREF: ["SNAME", "STRANS", "MAG", "ANGLE", "COLROW", "XY"],
  TEXT: ["LAYER", "TEXTTYPE", "PRESENTATION", "PATHTYPE", "WIDTH", "STRANS", "MAG", "ANGLE", "XY", "STRING"],
  NODE: ["LAYER", "NODETYPE", "XY"],
  BOX: ["LAYER", "BOXTYPE", "XY"],
};

function readElement(reader: RecordReader, context: Context): Element {
  const element = new Element(reader.next(), context);
  const allowed = inElement[element.start.name];
  if (allowed === undefined) return element.start.fail("wanted the start of an element or ENDSTR");
  for (;;) {
    const record = reader.next();
    if (record.name === "ENDEL") return element;
    if (record.name === "PROPATTR") {
      reader.take("PROPVALUE");
      context.skipped.properties++;
    } else if (allowed.includes(record.name) || idleInElement.includes(record.name)) {
      element.add(record);
    } else {
      record.fail(`it does not belong into ${element.start.name}`);
    }
  }
}

const unbounded = Number.POSITIVE_INFINITY;

function polygonOfBoundary(element: Element): Polygon {
  const closed = element.points({ least: 4, most: unbounded });
  const n = closed.length;
  if (closed[0] !== closed[n - 2] || closed[1] !== closed[n - 1])
    element.need("XY").fail("wanted the first point again at the end");
  return counterClockwise(closed.slice(0, n - 2));
}

function polygonsOfPath(element: Element): readonly Polygon[] {
  const line = element.points({ least: 1, most: unbounded });
  const width = Math.abs(element.length("WIDTH"));
  if (width === 0) element.start.fail("wanted a width other than zero");
  const type = element.find("PATHTYPE")?.short() ?? 0;
  const sagitta = width / 2000;
  if (type === 1) return stroke(element, line, { width, ends: "round", sagitta });
  if (type === 0) return stroke(element, line, { width, ends: [0, 0], sagitta });
  if (type === 2) return stroke(element, line, { width, ends: [width / 2, width / 2], sagitta });
  if (type === 4) return stroke(element, line, { width, ends: [element.length("BGNEXTN"), element.length("ENDEXTN")], sagitta });
  return element.need("PATHTYPE").fail(`wanted 0, 1, 2 or 4, found ${type}`);
}

function stroke(element: Element, line: Int32Array, options: Parameters<typeof strokePolygons>[1]): readonly Polygon[] {
  try {
    return strokePolygons(line, options);
  } catch (error) {
    if (error instanceof RangeError) element.start.fail(error.message);
    throw error;
  }
}

function labelOf(element: Element): Label {
  const [x, y] = element.points({ least: 1, most: 1 });
  return {
    layer: element.index("LAYER"),
    texttype: element.index("TEXTTYPE"),
    text: element.need("STRING").text(),
    at: [x!, y!],
  };
}

const mirrorBit = 0x8000;
const absoluteBits = 0x0006;

function placementOf(element: Element): Placement {
  const bits = element.find("STRANS")?.bits() ?? 0;
  if ((bits & absoluteBits) !== 0) element.need("STRANS").fail("absolute magnification and absolute angle are not read");
  const magnification = element.find("MAG")?.real() ?? 1;
  if (!(magnification > 0)) element.need("MAG").fail(`wanted a positive magnification, found ${magnification}`);
  const base = {
    cell: readName(element.need("SNAME")),
    rotation: ((element.find("ANGLE")?.real() ?? 0) * Math.PI) / 180,
    magnification,
    mirrored: (bits & mirrorBit) !== 0,
  };
  if (element.start.name === "SREF") {
    const [x, y] = element.points({ least: 1, most: 1 });
    return { ...base, at: [x!, y!] };
  }
  const [columns, rows] = element.need("COLROW").shortPair();
  if (columns < 1 || rows < 1) element.need("COLROW").fail(`wanted at least one column and row, found ${columns} and ${rows}`);
  const [x, y, cx, cy, rx, ry] = element.points({ least: 3, most: 3 });
  return {
    ...base,
    at: [x!, y!],
    array: {
      columns,
      rows,
      columnStep: [(cx! - x!) / columns, (cy! - y!) / columns],
      rowStep: [(rx! - x!) / rows, (ry! - y!) / rows],
    },
  };
}

function readName(record: StreamRecord): string {
  const name = record.text();
  if (!/^[A-Za-z0-9_?$]{1,127}$/.test(name)) record.fail(`wanted a name of A-Z a-z 0-9 _ ? $, found "${name.slice(0, 60)}"`);
  return name;
}

/** Shapes under construction, by layer and datatype in the order of their first polygon. */
class ShapeGatherer {
  private readonly shapes = new Map<number, { layer: number; datatype: number; polygons: Polygon[] }>();

  add(element: Element, polygons: readonly Polygon[]): void {
    const layer = element.index("LAYER");
    const datatype = element.index("DATATYPE");
    const key = layer * 0x8000 + datatype;
    const shape = this.shapes.get(key) ?? { layer, datatype, polygons: [] };
    this.shapes.set(key, shape);
    for (const polygon of polygons) shape.polygons.push(polygon);
  }

  gathered(): readonly Shape[] {
    return [...this.shapes.values()];
  }
}

function readCell(reader: RecordReader, context: Context): Cell {
  const name = readName(reader.take("STRNAME"));
  const shapes = new ShapeGatherer();
  const labels: Label[] = [];
  const placements: Placement[] = [];
  while (reader.takeIf("ENDSTR") === undefined) {
    const element = readElement(reader, context);
    switch (element.start.name) {
      case "BOUNDARY": {
        const polygon = polygonOfBoundary(element);
        if (signedArea(polygon) === 0) context.skipped.boundariesWithoutArea++;
        else shapes.add(element, [polygon]);
        break;
      }
      case "PATH":
        shapes.add(element, polygonsOfPath(element));
        break;
      case "TEXT":
        labels.push(labelOf(element));
        break;
      case "NODE":
        context.skipped.nodes++;
        break;
      case "BOX":
        context.skipped.boxes++;
        break;
      default:
        placements.push(placementOf(element));
    }
  }
  return { name, shapes: shapes.gathered(), labels, placements };
}

const idleInHeader: readonly RecordName[] = ["REFLIBS", "FONTS", "ATTRTABLE", "GENERATIONS", "FORMAT", "MASK", "ENDMASKS"];

function readScale(record: StreamRecord): number {
  const [, metres] = record.realPair();
  const scale = metres / metresPerDbu;
  if (!(scale >= 1e-3 && scale <= 1e6)) record.fail(`wanted a database unit between 1e-12 m and 1e-3 m, found ${metres} m`);
  // Writers that cut off the last bits of 1e-9 m mean 1e-9 m.
  const whole = Math.round(scale);
  return whole > 0 && Math.abs(scale - whole) < 1e-12 * whole ? whole : scale;
}

/** Reads a whole stream file. Throws GdsiiError, and nothing else, on a file that is not sound. */
export function parseGdsii(bytes: Uint8Array): GdsiiReading {
  const reader = new RecordReader(bytes);
  reader.take("HEADER").short();
  reader.take("BGNLIB");
  const nameRecord = reader.take("LIBNAME");
  while (idleInHeader.includes(reader.peek().name)) reader.next();
  const context: Context = {
    scale: readScale(reader.take("UNITS")),
    skipped: { nodes: 0, boxes: 0, properties: 0, boundariesWithoutArea: 0 },
  };
  const cells: Cell[] = [];
  const offsets = new Map<string, number>();
  while (reader.takeIf("ENDLIB") === undefined) {
    const start = reader.take("BGNSTR");
    const cell = readCell(reader, context);
    if (offsets.has(cell.name)) throw new GdsiiError(`cell ${cell.name} comes twice`, start.offset);
    offsets.set(cell.name, start.offset);
    cells.push(cell);
  }
  reader.expectEnd();
  const library = { name: nameRecord.text(), cells };
  const fault = findPlacementFault(library);
  if (fault !== undefined) throw new GdsiiError(`in cell ${fault.cell} ${fault.fault}`, offsets.get(fault.cell)!);
  return { library, skipped: context.skipped };
}
