/** Where a byte sequence stops being UTF-8, by the table of well-formed sequences of the Unicode standard (from memory). */

/** Lowest and highest second byte after a lead byte; later ones are 0x80..0xBF. */
function secondByteRange(lead: number): { low: number; high: number } {
  if (lead === 0xe0) return { low: 0xa0, high: 0xbf };
  if (lead === 0xed) return { low: 0x80, high: 0x9f };
  if (lead === 0xf0) return { low: 0x90, high: 0xbf };
  if (lead === 0xf4) return { low: 0x80, high: 0x8f };
  return { low: 0x80, high: 0xbf };
}

/** Bytes that belong to a character with this lead byte; 0 when no character starts so. */
function lengthFromLead(lead: number): number {
  if (lead < 0x80) return 1;
  if (lead >= 0xc2 && lead <= 0xdf) return 2;
  if (lead >= 0xe0 && lead <= 0xef) return 3;
  return lead >= 0xf0 && lead <= 0xf4 ? 4 : 0;
}

function isCharacterAt(bytes: Uint8Array, start: number, length: number): boolean {
  if (length === 0 || start + length > bytes.length) return false;
  const { low, high } = secondByteRange(bytes[start]!);
  for (let k = 1; k < length; k++) {
    const byte = bytes[start + k]!;
    if (byte < (k === 1 ? low : 0x80) || byte > (k === 1 ? high : 0xbf)) return false;
  }
  return true;
}

/** Offset of the first byte that starts no whole character, or -1 when all is well. */
export function findBrokenUtf8(bytes: Uint8Array): number {
  for (let at = 0; at < bytes.length; ) {
    const length = lengthFromLead(bytes[at]!);
    if (!isCharacterAt(bytes, at, length)) return at;
    at += length;
  }
  return -1;
}
