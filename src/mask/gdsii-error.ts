/** A stream file that cannot be read: one sentence with the offset of the record that is at fault. */
export class GdsiiError extends Error {
  override readonly name = "GdsiiError";
  /** Offset in the file [bytes] of the record at fault. */
  readonly offset: number;

  constructor(fault: string, offset: number) {
    super(`Cannot read the stream file at byte ${offset}: ${fault}`);
    this.offset = offset;
  }
}
