/** Parts that nothing holds, and motions that nothing keeps a device from. Main test: src/chip/broken-texts.test.ts (broken-compositions.table.ts). */
import { FreeMotionError } from "#physics";
import type { BuiltDevice } from "../model/built-device.ts";
import type { Mechanics } from "../model/mechanics.ts";
import type { Fault } from "./fault.ts";
import { Groups } from "./groups.ts";

/** One group for every piece of silicon: bodies first, then joints. */
export function groupsOfSilicon({ bodies, joints, beams }: BuiltDevice): { readonly groups: Groups; nodeOf(site: Site): number } {
  const groups = new Groups(bodies.length + joints.length);
  const nodeOf = ({ kind, index }: Site): number => (kind === "body" ? index : bodies.length + index);
  for (const { ends } of beams) groups.join(nodeOf(ends[0]), nodeOf(ends[1]));
  return { groups, nodeOf };
}

type Site = BuiltDevice["beams"][number]["ends"][number];

/** Pieces of silicon that no anchor, support or spring holds: told by one of their parts. */
export function findFloatingParts(device: BuiltDevice): readonly Fault[] {
  const { groups, nodeOf } = groupsOfSilicon(device);
  const told = new Set<number>();
  device.bodies.forEach(({ part }, index) => {
    if (part.kind === "anchor") told.add(groups.rootOf(index));
  });
  for (const part of device.drawing.parts) {
    if (part.kind !== "support" && part.kind !== "spring") continue;
    const site = device.siteAt(part.at);
    if (site !== undefined) told.add(groups.rootOf(nodeOf(site)));
  }
  const pieces = [
    ...device.bodies.map(({ part }, index) => [part.name, index] as const),
    ...device.beams.map(({ part, ends }) => [part.name, nodeOf(ends[0])] as const),
  ];
  return pieces.flatMap(([name, node]): Fault[] => {
    const root = groups.rootOf(node);
    if (told.has(root)) return [];
    told.add(root);
    return [{ part: name, message: `"${name}" is held by nothing: join it to an anchor with a beam, or give it a support` }];
  });
}

/** A motion that nothing resists, where hinges or a lack of supports may leave one. */
export function findFreeMotion(device: BuiltDevice, mechanics: Mechanics): readonly Fault[] {
  const isPlain = device.bodies.some(({ part }) => part.kind === "anchor") && !device.drawing.parts.some(mayFree);
  if (isPlain) return [];
  try {
    mechanics.requireHeld();
    return [];
  } catch (error) {
    if (!(error instanceof FreeMotionError)) throw error;
    return [{ part: undefined, message: `${error.reason}: hold it, join it with a beam, or take a hinge away` }];
  }
}

function mayFree(part: BuiltDevice["drawing"]["parts"][number]): boolean {
  return part.kind === "support" || part.kind === "spring" || (part.kind === "beam" && (part.hinged[0] || part.hinged[1]));
}
