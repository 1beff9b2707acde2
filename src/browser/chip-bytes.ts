/** The bytes of a chip.yaml as a text and back, without losing one: other encodings are refused, a byte-order mark is kept apart. */
import { chipFileName, largestChipText as largest } from "#chip";

const mark = "\uFEFF";

export interface ChipBytes {
  readonly text: string;
  /** The file starts with a byte-order mark; saving keeps it. */
  readonly hasMark: boolean;
}

function decodeChip(bytes: ArrayBuffer): ChipBytes {
  try {
    const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
    return text.startsWith(mark) ? { text: text.slice(1), hasMark: true } : { text, hasMark: false };
  } catch {
    throw new Error(`Cannot read ${chipFileName}: wanted UTF-8, found other bytes. Save the file as UTF-8.`);
  }
}

/** Throws with a sentence what cannot be read back as it was. */
export function encodeChip({ text, hasMark }: ChipBytes): Uint8Array<ArrayBuffer> {
  const bytes = new TextEncoder().encode((hasMark ? mark : "") + text);
  if (bytes.length > largest) throw new Error(`Cannot save ${chipFileName}: the text is larger than ${largest / 1e6} MB.`);
  const back = decodeChip(bytes.buffer);
  if (back.text !== text || back.hasMark !== hasMark)
    throw new Error(`Cannot save ${chipFileName}: the text holds half a character or starts with a byte-order mark.`);
  return bytes;
}

/** Reads a picked or opened file. Throws with a sentence. */
export async function readChipFile(file: File): Promise<ChipBytes> {
  if (file.size > largest)
    throw new Error(
      `Cannot read ${chipFileName}: wanted at most ${largest / 1e6} MB, found ${(file.size / 1e6).toFixed(2)} MB. Keep tables in CSV files.`,
    );
  return decodeChip(await file.arrayBuffer());
}
