/** What is wrong with a device before anything is solved. Main test: src/chip/broken-texts.test.ts (broken-compositions.table.ts). */
import { AssemblyError } from "../assembly-error.ts";
import type { DeviceModel } from "../device-model.ts";
import { createLightModel } from "../model/light-results.ts";
import type { Fault } from "./fault.ts";
import { findFloatingParts, findFreeMotion } from "./held.ts";
import { findTouchingParts } from "./touching.ts";

/** What is wrong with the device itself, whatever it is asked: the first kind of fault that there is. */
export function findDeviceFaults({ parts }: Pick<DeviceModel, "parts">): readonly Fault[] {
  const { device, mechanics } = parts;
  const { output, light } = device.drawing;
  const touching = findTouchingParts(device);
  if (touching.length > 0) return touching;
  const floating = findFloatingParts(device);
  if (floating.length > 0) return floating;
  const free = findFreeMotion(device, mechanics);
  if (free.length > 0) return free;
  return [
    ...(output === undefined ? [] : faultOf(() => void mechanics.siteAt(output.at, "the output"))),
    ...(light === undefined ? [] : faultOf(() => void createLightModel(parts, light))),
  ];
}

function faultOf(work: () => void): readonly Fault[] {
  try {
    work();
    return [];
  } catch (error) {
    if (!(error instanceof AssemblyError)) throw error;
    return [{ part: undefined, message: error.message }];
  }
}
