/** Results along every beam, for pictures and data. */
import type { FrameState } from "#physics";
import type { Frame } from "./frame-builder.ts";
import type { BeamResult } from "./operating-point.ts";

type AlongBeam = Pick<BeamResult, "positions" | "temperatures" | "current">;

/** `along` gives temperatures and current of a beam of the given length [m]; forces are missing where nothing balances. */
export function beamResults(
  frame: Frame,
  hot: FrameState | undefined,
  along: (index: number, length: number) => AlongBeam,
): BeamResult[] {
  return frame.beams.map((beam, index) => {
    const from = frame.points[beam.from]!;
    const to = frame.points[beam.to]!;
    const { positions, temperatures, current } = along(index, Math.hypot(to.x - from.x, to.y - from.y));
    const member = hot?.members[index];
    return {
      name: beam.name,
      ends: Float64Array.of(from.x, from.y, to.x, to.y),
      width: beam.width,
      positions,
      temperatures,
      current,
      axialForce: member?.axialForce ?? Number.NaN,
      peakStress: member?.peakStress ?? Number.NaN,
    };
  });
}
