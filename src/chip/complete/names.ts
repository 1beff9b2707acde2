/** Names of the things that a text defines, and where in the text each kind of them may be named. */
import { isMap, isScalar, type Node, type Pair } from "yaml";
import { materialNames } from "#materials";
import { metrics } from "../metrics/vocabulary.table.ts";
import { findNode } from "../text/find-node.ts";
import { writtenText } from "../text/reading.ts";
import type { Spot } from "./spot.ts";

export interface Named {
  readonly name: string;
  readonly about: string;
}

const kinds = {
  parameter: "a parameter",
  device: "a device",
  case: "an operating case",
  point: "a point",
  part: "a part",
  net: "a net",
  "own material": "a material of this text",
  "built-in material": "a built-in material",
  metric: "a metric",
} as const;

type Kind = keyof typeof kinds;

/** Places by their path ("*" for any name or entry, "**" for any way down), and the kinds of names that belong there. */
const belongs: readonly (readonly [place: string, ...kinds: readonly Kind[]])[] = [
  ["devices/**/from", "point", "part"],
  ["devices/**/to", "point", "part"],
  ["devices/**/at", "point", "part"],
  ["devices/*/points/*/from", "point"],
  ["devices/*/output/point", "point", "part"],
  ["devices/*/light/blade", "part"],
  ["devices/*/copies/*/of/*", "part", "point"],
  ["devices/**/wire", "net"],
  ["process/glass/material", "own material", "built-in material"],
  ["process/silicon/material", "own material", "built-in material"],
  ["materials/*/based on", "built-in material"],
  ["brief/**/of", "metric"],
  ["brief/**/at", "case"],
  ["brief/**/where", "point", "part"],
  ["brief/**/device", "device"],
  ["drive/cases/*/device", "device"],
  ["drive/cases/*/forces", "point"],
  ["drive/cases/*/held", "point"],
  ["drive/cases/*/part rises", "part"],
  ["drive/cases/*/part strains", "part"],
  ["drive/cases/*/potentials", "net"],
  ["readings/*/of", "metric", "parameter"],
  ["readings/*/at", "case"],
  ["readings/*/device", "device"],
];

function fits(place: string, path: readonly string[]): boolean {
  const steps = place.split("/");
  const wide = steps.indexOf("**");
  const same = (wanted: readonly string[], found: readonly string[]): boolean =>
    wanted.length === found.length && wanted.every((step, i) => step === "*" || step === found[i]);
  if (wide < 0) return same(steps, path);
  const [before, after] = [steps.slice(0, wide), steps.slice(wide + 1)];
  const isLongEnough = path.length >= before.length + after.length;
  return isLongEnough && same(before, path.slice(0, before.length)) && same(after, path.slice(-after.length));
}

interface Entry {
  readonly name: string;
  readonly value: Node | undefined;
}

function entriesAt(root: Node, path: readonly string[]): readonly Entry[] {
  const node = findNode(root, path);
  if (!isMap(node)) return [];
  return (node.items as Pair[]).flatMap(({ key, value }) =>
    isScalar(key) ? [{ name: writtenText(key), value: (value ?? undefined) as Node | undefined }] : [],
  );
}

const sayAs = (kind: Kind, entries: readonly Entry[]): readonly Named[] =>
  entries.map(({ name, value }) => ({
    name,
    about: isScalar(value) && value.value !== null ? `${kinds[kind]}: ${writtenText(value)}` : kinds[kind],
  }));

/** Within a device its own names; elsewhere those of all devices. */
function ofDevices(root: Node, path: readonly string[], block: "points" | "parts"): readonly Entry[] {
  const devices = path[0] === "devices" ? path.slice(1, 2) : entriesAt(root, ["devices"]).map(({ name }) => name);
  return devices.flatMap((device) => entriesAt(root, ["devices", device, block]));
}

function netsOf(root: Node): readonly Named[] {
  const parts = entriesAt(root, ["devices"]).flatMap(({ name }) =>
    entriesAt(root, ["devices", name, "parts"]).map((part) => ["devices", name, "parts", part.name]),
  );
  const nets = parts.flatMap((path) => entriesAt(root, path).filter(({ name }) => name === "wire"));
  const names = new Set(["plus", "minus", ...nets.flatMap(({ value }) => (isScalar(value) ? [writtenText(value)] : []))]);
  return [...names].map((name) => ({ name, about: kinds.net }));
}

function namesOfKind(kind: Kind, root: Node, path: readonly string[]): readonly Named[] {
  switch (kind) {
    case "parameter":
      return sayAs(kind, entriesAt(root, ["parameters"]));
    case "device":
      return sayAs(kind, entriesAt(root, ["devices"]));
    case "case":
      return sayAs(kind, entriesAt(root, ["drive", "cases"]));
    case "point":
      return sayAs(kind, ofDevices(root, path, "points"));
    case "part":
      return sayAs(kind, ofDevices(root, path, "parts"));
    case "net":
      return netsOf(root);
    case "own material":
      return sayAs(kind, entriesAt(root, ["materials"]));
    case "built-in material":
      return materialNames().map((name) => ({ name, about: kinds[kind] }));
    case "metric":
      return metrics.map(({ word, about }) => ({ name: word, about }));
  }
}

/** Names that may stand at a spot, be it as a value or as the name of an entry. */
export function namesFor({ path, root, beside }: Spot): readonly Named[] {
  if (root === undefined) return [];
  const wanted = new Set(belongs.flatMap(([place, ...found]) => (fits(place, path) ? found : [])));
  return [...wanted].flatMap((kind) => namesOfKind(kind, root, path)).filter(({ name }) => !beside.includes(name));
}

/** Parameters of a text, each with what it is. */
export const parametersOf = (root: Node | undefined): readonly Named[] =>
  root === undefined ? [] : namesOfKind("parameter", root, []);
