/**
 * The eight-byte real of stream files: value = (-1)^S * (M / 2^56) * 16^(E - 64), M of 56 bits with a first hexadecimal digit
 * other than zero. A double has 53 bits, so every double within range is kept exactly; range about 5e-79 to 7e75.
 * Reading rounds M to 53 bits. Main test: real8.test.ts (published byte patterns).
 */

/** Writes a double as eight bytes; refuses what lies outside the range. */
export function real8FromNumber(value: number): Uint8Array {
  const bytes = new Uint8Array(8);
  if (value === 0) return bytes;
  if (!Number.isFinite(value)) throw new RangeError(`Cannot write ${value} to a stream file: wanted a finite number`);
  let exponent = 64;
  let fraction = Math.abs(value);
  while (fraction >= 1) {
    fraction /= 16;
    exponent++;
  }
  while (fraction < 1 / 16) {
    fraction *= 16;
    exponent--;
  }
  if (exponent < 0 || exponent > 127)
    throw new RangeError(`Cannot write ${value} to a stream file: wanted a size between 5e-79 and 7e75`);
  bytes[0] = (value < 0 ? 0x80 : 0) | exponent;
  // Two exact steps of 24 and 32 bits: each product is a whole number below 2^53.
  const high = Math.floor(fraction * 2 ** 24);
  const low = (fraction * 2 ** 24 - high) * 2 ** 32;
  const view = new DataView(bytes.buffer);
  view.setUint32(0, ((bytes[0]! << 24) | high) >>> 0);
  view.setUint32(4, low);
  return bytes;
}

/** Reads eight bytes at an offset. */
export function numberFromReal8(view: DataView, offset: number): number {
  const head = view.getUint32(offset);
  const mantissa = (head & 0xffffff) * 2 ** 32 + view.getUint32(offset + 4);
  const exponent = ((head >>> 24) & 0x7f) - 64;
  const value = (mantissa / 2 ** 56) * 16 ** exponent;
  return head >= 0x80000000 ? -value : value;
}
