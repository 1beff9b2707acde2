/** For tests: an answer that comes in pieces, to its end. */
import type { LiveAnswer, LivePieces } from "./live-chip.ts";

export function lastOf(pieces: LivePieces): LiveAnswer {
  for (;;) {
    const piece = pieces.next();
    if (piece.done === true) return piece.value;
  }
}
