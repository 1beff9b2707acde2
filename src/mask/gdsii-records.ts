/**
 * Walking through the records of a stream file: lengths, types and payloads are checked before anything is used, so that nothing is
 * read beyond the end and nothing is reserved beyond what the file holds.
 */
import { GdsiiError } from "./gdsii-error.ts";
import { dataTypes, type RecordName, recordTypes } from "./gdsii-records.table.ts";
import { numberFromReal8 } from "./real8.ts";

const nameOfType = new Map<number, RecordName>(Object.entries(recordTypes).map(([name, [type]]) => [type, name as RecordName]));

const sizeOfItem: ReadonlyMap<number, number> = new Map([
  [dataTypes.bits, 2],
  [dataTypes.int16, 2],
  [dataTypes.int32, 4],
  [dataTypes.real8, 8],
]);

/** One record: its name, where it starts in the file, and its payload. */
export class StreamRecord {
  readonly name: RecordName;
  readonly offset: number;
  private readonly payload: DataView;

  constructor(name: RecordName, options: { offset: number; payload: DataView }) {
    this.name = name;
    this.offset = options.offset;
    this.payload = options.payload;
  }

  fail(fault: string): never {
    throw new GdsiiError(`${this.name}: ${fault}`, this.offset);
  }

  /** Refuses a payload of another number of items than wanted. */
  expectItems(wanted: number, size: number): void {
    if (this.payload.byteLength !== wanted * size) this.fail(`wanted ${wanted} values, found ${this.payload.byteLength / size}`);
  }

  short(): number {
    this.expectItems(1, 2);
    return this.payload.getInt16(0);
  }

  bits(): number {
    this.expectItems(1, 2);
    return this.payload.getUint16(0);
  }

  shortPair(): readonly [number, number] {
    this.expectItems(2, 2);
    return [this.payload.getInt16(0), this.payload.getInt16(2)];
  }

  integer(): number {
    this.expectItems(1, 4);
    return this.payload.getInt32(0);
  }

  integers(): Int32Array {
    const values = new Int32Array(this.payload.byteLength / 4);
    for (let i = 0; i < values.length; i++) values[i] = this.payload.getInt32(4 * i);
    return values;
  }

  real(): number {
    this.expectItems(1, 8);
    return numberFromReal8(this.payload, 0);
  }

  realPair(): readonly [number, number] {
    this.expectItems(2, 8);
    return [numberFromReal8(this.payload, 0), numberFromReal8(this.payload, 8)];
  }

  /** Text without its padding; bytes above 126 are taken for Latin-1. */
  text(): string {
    const n = this.payload.byteLength;
    const used = n > 0 && this.payload.getUint8(n - 1) === 0 ? n - 1 : n;
    let text = "";
    for (let i = 0; i < used; i++) {
      const code = this.payload.getUint8(i);
      if (code < 32 || (code >= 127 && code < 160)) this.fail(`wanted printable characters, found code ${code}`);
      text += String.fromCharCode(code);
    }
    return text;
  }
}

export class RecordReader {
  private at = 0;
  private readonly view: DataView;
  private waiting: StreamRecord | undefined;

  constructor(bytes: Uint8Array) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  /** The next record, without going past it. */
  peek(): StreamRecord {
    this.waiting ??= this.read();
    return this.waiting;
  }

  next(): StreamRecord {
    const record = this.peek();
    this.waiting = undefined;
    return record;
  }

  /** The next record, which must be of this kind. */
  take(name: RecordName): StreamRecord {
    const record = this.next();
    if (record.name !== name) throw new GdsiiError(`wanted ${name}, found ${record.name}`, record.offset);
    return record;
  }

  takeIf(name: RecordName): StreamRecord | undefined {
    return this.peek().name === name ? this.next() : undefined;
  }

  /** Refuses anything but padding after the last record. */
  expectEnd(): void {
    for (let i = this.at; i < this.view.byteLength; i++) {
      if (this.view.getUint8(i) !== 0) throw new GdsiiError("wanted nothing but padding after ENDLIB, found more data", i);
    }
  }

  private read(): StreamRecord {
    const offset = this.at;
    const left = this.view.byteLength - offset;
    if (left < 4) throw new GdsiiError(`the file ends before ENDLIB, found ${left} bytes where a record should start`, offset);
    const length = this.view.getUint16(offset);
    if (length < 4 || length % 2 !== 0)
      throw new GdsiiError(`wanted an even record length of at least 4, found ${length}`, offset);
    if (length > left) throw new GdsiiError(`a record of ${length} bytes starts, found only ${left} bytes left`, offset);
    const type = this.view.getUint8(offset + 2);
    const name = nameOfType.get(type);
    if (name === undefined) throw new GdsiiError(`found a record of unknown type ${type}`, offset);
    const data = this.view.getUint8(offset + 3);
    const wanted = recordTypes[name][1];
    if (data !== wanted) throw new GdsiiError(`${name}: wanted data type ${wanted}, found ${data}`, offset);
    const size = sizeOfItem.get(data);
    if (size !== undefined && (length - 4) % size !== 0)
      throw new GdsiiError(`${name}: ${length - 4} bytes do not divide into values of ${size}`, offset);
    if (data === dataTypes.none && length !== 4)
      throw new GdsiiError(`${name}: wanted no data, found ${length - 4} bytes`, offset);
    this.at += length;
    return new StreamRecord(name, {
      offset,
      payload: new DataView(this.view.buffer, this.view.byteOffset + offset + 4, length - 4),
    });
  }
}
