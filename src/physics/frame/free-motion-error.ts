/** A motion of a frame that nothing resists, told by the junction and the motion. */
import { SolveError } from "#base";
import type { Motion, OutOfPlaneMotion } from "./network.ts";

export interface FreeMotion {
  readonly junction: string;
  readonly motion: Motion | OutOfPlaneMotion;
}

/** A frame that cannot be solved since a motion is held by nothing. */
export class FreeMotionError extends SolveError {
  /** The same in words, without what was to be solved. */
  readonly reason: string;

  constructor(message: string, free: FreeMotion | undefined) {
    super(message, {
      method: "factorisation",
      iterations: 0,
      residual: 0,
      target: 0,
      hint: "Hold it, join it with a beam, or take a hinge away.",
    });
    this.reason = free === undefined ? "a beam inside is a mechanism" : wordsOf(free);
  }
}

function wordsOf({ junction, motion }: FreeMotion): string {
  const way = {
    x: "move along x",
    y: "move along y",
    z: "move along z",
    turn: "turn",
    "turn x": "tilt about x",
    "turn y": "tilt about y",
  };
  return `"${junction}" is free to ${way[motion]}`;
}
