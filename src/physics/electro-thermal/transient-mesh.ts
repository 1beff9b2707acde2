/** How finely the branches of a frame are cut for a run in time. Main test: transient.test.ts. */
import type { ElectroThermalNetwork } from "./network.ts";
import { firstMeshSize } from "./steady.ts";
import type { TransientOptions } from "./transient-history.ts";

/** Elements by the same length everywhere, so that the longest branch has `fewestElements`: short links need no more than one. */
export function meshOfTransient(network: ElectroThermalNetwork, options: TransientOptions): number[] {
  const { start } = options;
  const longest = network.branches.reduce((max, { length }) => Math.max(max, length), 0);
  const fewest = options.fewestElements ?? 3;
  const ambient = typeof start === "number" ? start : start.junctionTemperatures[0]!;
  return network.branches.map((branch, b) =>
    Math.max(
      // a little less than the whole, or rounding would give one of two equal branches an element more
      Math.ceil((fewest * branch.length) / longest - 1e-6),
      firstMeshSize(branch, ambient),
      typeof start === "number" ? 1 : start.fields[b]!.nElements,
    ),
  );
}
