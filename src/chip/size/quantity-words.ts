/** A quantity of the text in words: "length of legs of drive", "leg width", "silicon thickness of process", "pads at hold". */
import type { QuantityText } from "#base";
import type { Chip } from "../predict/chip.ts";

/** Words of a path that only say where in the text something stands. */
const headings: ReadonlySet<string> = new Set(["devices", "parts", "points", "drive", "cases"]);

/** Names the quantity from the inside out; the device is named where there are several. */
export function quantityWords(chip: Chip, { path }: QuantityText): string {
  const [root, ...rest] = path as readonly [string, ...string[]];
  if (root === "parameters") return rest.join(" ");
  if (root === "drive" && rest[0] === "cases") return `${rest.slice(2).reverse().join(" of ")} at ${rest[1]}`;
  if (root !== "devices") return [...rest].reverse().join(" of ");
  const [device, ...inside] = rest as [string, ...string[]];
  const words = inside.filter((word, k) => !(k === 0 && headings.has(word)));
  return [...words.reverse(), ...(chip.names.devices.length > 1 ? [device] : [])].join(" of ");
}
