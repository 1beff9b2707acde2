/** What keeps a current from flowing and its heat from leaving. Main test: src/chip/broken-texts.test.ts (broken-compositions.table.ts). */
import { findUncooledJunction } from "#physics";
import type { DeviceParts } from "../model/device-parts.ts";
import type { HeatNetwork } from "../model/heat-network.ts";
import { partOfBranch } from "../model/temperature-results.ts";
import type { Fault } from "./fault.ts";
import { Groups } from "./groups.ts";

/** Nets that anchors are wired to. */
export function wiredNets({ device }: Pick<DeviceParts, "device">): readonly string[] {
  return [
    ...new Set(device.bodies.flatMap(({ part }) => (part.kind === "anchor" && part.wire !== undefined ? [part.wire] : []))),
  ];
}

/** True where silicon leads from one net to the other. */
function isLed({ network, terminals }: HeatNetwork): boolean {
  const { junctions, branches } = network;
  const groups = new Groups(junctions.length + terminals.length);
  junctions.forEach(({ terminal }, j) => {
    if (terminal !== undefined) groups.join(j, junctions.length + terminal);
  });
  for (const { from, to } of branches) groups.join(from, to);
  const rootOf = (net: string): number => groups.rootOf(junctions.length + terminals.indexOf(net));
  return rootOf("plus") === rootOf("minus");
}

function nameOfJunction(parts: DeviceParts, junction: number): string {
  const branch = parts.heat.network.branches.findIndex(({ from, to }) => from === junction || to === junction);
  if (branch >= 0) return partOfBranch(parts, branch);
  const body = parts.heat.junctionOfBody.indexOf(junction);
  return parts.device.bodies[body]?.part.name ?? "device";
}

/** Why a device cannot be fed. */
export function findFeedFaults(parts: DeviceParts): readonly Fault[] {
  const wired = wiredNets(parts);
  const missing = ["plus", "minus"].filter((net) => !wired.includes(net));
  if (missing.length > 0)
    return missing.map((net) => ({
      part: undefined,
      message: `no anchor is wired to "${net}": give one of them wire: ${net}`,
    }));
  if (!isLed(parts.heat))
    return [{ part: undefined, message: 'no silicon leads from "plus" to "minus": join their anchors with beams' }];
  const uncooled = findUncooledJunction(parts.heat.network);
  if (uncooled === undefined) return [];
  const name = nameOfJunction(parts, uncooled);
  return [{ part: name, message: `nothing cools "${name}": join it to an anchor, or let it lose heat` }];
}
