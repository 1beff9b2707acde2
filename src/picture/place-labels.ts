/**
 * Where names stand beside the points that they name, so that none covers another or another's point. Each takes the free place
 * nearest to its point, in the order given; where all are taken, the one that covers least. Main test: place-labels.test.ts.
 */
export interface WantedLabel {
  /** The point, in pixels, y down. */
  readonly at: readonly [x: number, y: number];
  readonly width: number;
  readonly height: number;
}

export interface LabelBox {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Distances from the point to the label that are tried, [px]. */
const reaches = [6, 14, 24, 36, 50, 66, 84, 104];
/** Ways from the point: right, left, above, below, then the corners. */
const ways = [
  [1, 0],
  [-1, 0],
  [0, -1],
  [0, 1],
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
] as const;
const pointSize = 8;

function overlapOf(a: LabelBox, b: LabelBox): number {
  const x = Math.min(a.left + a.width, b.left + b.width) - Math.max(a.left, b.left);
  const y = Math.min(a.top + a.height, b.top + b.height) - Math.max(a.top, b.top);
  return x > 0 && y > 0 ? x * y : 0;
}

/** Part of a box that lies outside the frame, as an area. */
function outsideOf(box: LabelBox, frame: { readonly width: number; readonly height: number }): number {
  return box.width * box.height - overlapOf(box, { left: 0, top: 0, ...frame });
}

function candidates(wanted: WantedLabel): readonly LabelBox[] {
  const { at, width, height } = wanted;
  return reaches.flatMap((reach) =>
    ways.map(([right, down]) => ({
      left: at[0] - width / 2 + right * (width / 2 + reach),
      top: at[1] - height / 2 + down * (height / 2 + reach),
      width,
      height,
    })),
  );
}

/** One box for each label. */
export function placeLabels(
  labels: readonly WantedLabel[],
  frame: { readonly width: number; readonly height: number },
): readonly LabelBox[] {
  const taken: LabelBox[] = labels.map(({ at: [x, y] }) => ({
    left: x - pointSize / 2,
    top: y - pointSize / 2,
    width: pointSize,
    height: pointSize,
  }));
  return labels.map((label) => {
    let best: { readonly box: LabelBox; readonly covered: number } | undefined;
    for (const box of candidates(label)) {
      const covered = taken.reduce((sum, other) => sum + overlapOf(box, other), 2 * outsideOf(box, frame));
      if (best === undefined || covered < best.covered) best = { box, covered };
      if (covered === 0) break;
    }
    taken.push(best!.box);
    return best!.box;
  });
}
