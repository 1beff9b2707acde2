/**
 * How one quantity refers to another. A quantity answers to the end of its path as long as that is unique: `leg width` for
 * parameters.leg width, `silicon resistivity` for process.silicon.resistivity, `drive legs tilt`, `hold pads`.
 * A parameter always answers to its own name.
 */
import { nearestName, type QuantityText } from "#base";

/** Path with dots, as shown in messages and used as a key. */
export function pathKey(path: readonly string[]): string {
  let key = keysKnown.get(path);
  if (key === undefined) {
    key = path.join(".");
    keysKnown.set(path, key);
  }
  return key;
}

/** Sweeps ask for the same paths at every step. */
const keysKnown = new WeakMap<readonly string[], string>();

export type Found =
  | { readonly kind: "one"; readonly quantity: QuantityText }
  | { readonly kind: "none" }
  | { readonly kind: "many"; readonly keys: readonly string[] };

export interface Addresses {
  find(name: string): Found;
  /** The shortest name that a quantity answers to. */
  shortest(key: string): string;
  /** A sentence that says why a name was not found. */
  explain(name: string, found: Found): string;
  /** The quantity with that path key. */
  at(key: string): QuantityText | undefined;
  readonly all: readonly QuantityText[];
}

/** Words and dots are the same to a reader of paths. */
function normal(name: string): string {
  return name.replaceAll(".", " ").replace(/\s+/g, " ").trim();
}

export function createAddresses(quantities: readonly QuantityText[]): Addresses {
  const byName = new Map<string, QuantityText[]>();
  const byKey = new Map<string, QuantityText>();
  for (const quantity of quantities) {
    byKey.set(pathKey(quantity.path), quantity);
    for (let start = 0; start < quantity.path.length; start++) {
      const name = normal(quantity.path.slice(start).join(" "));
      const list = byName.get(name);
      if (list === undefined) byName.set(name, [quantity]);
      else list.push(quantity);
    }
  }
  const find = (name: string): Found => {
    const list = byName.get(normal(name)) ?? [];
    const parameter = list.find(
      (quantity) => quantity.path[0] === "parameters" && normal(quantity.path.slice(1).join(" ")) === normal(name),
    );
    if (parameter !== undefined) return { kind: "one", quantity: parameter };
    if (list.length === 1) return { kind: "one", quantity: list[0]! };
    return list.length === 0 ? { kind: "none" } : { kind: "many", keys: list.map((quantity) => pathKey(quantity.path)) };
  };
  const shortest = (key: string): string => {
    const quantity = byKey.get(key);
    if (quantity === undefined) return key;
    for (let start = quantity.path.length - 1; start > 0; start--) {
      const name = normal(quantity.path.slice(start).join(" "));
      const found = find(name);
      if (found.kind === "one" && found.quantity === quantity) return name;
    }
    return normal(key);
  };
  const explain = (name: string, found: Found): string => {
    if (found.kind === "many") return `"${name}" may mean ${found.keys.slice(0, 4).join(" or ")}: write more of the path.`;
    const names = quantities.map((quantity) => shortest(pathKey(quantity.path)));
    const nearest = nearestName(normal(name), names);
    if (nearest !== undefined) return `nothing is called "${name}"; the nearest is "${nearest}".`;
    const parameters = names.filter((_, i) => quantities[i]!.path[0] === "parameters");
    return parameters.length === 0
      ? `nothing is called "${name}". Give it a value under parameters.`
      : `nothing is called "${name}". Parameters are ${parameters.slice(0, 8).join(", ")}.`;
  };
  return { find, shortest, explain, at: (key) => byKey.get(key), all: quantities };
}
