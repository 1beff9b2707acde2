/**
 * Metrics with their doubt, to first order: the derivative of each by each cause of doubt, per standard deviation. The model moved by a
 * small step is solved to first order from the one in the middle, so that a derivative costs no iteration.
 */
import type { Cause, Side } from "../evaluate/scope.ts";
import type { LinearMetric } from "../ledger/chance.ts";
import type { MetricValue } from "../metrics/read-metric.ts";
import type { Chip } from "./chip.ts";
import type { MetricRequest, SideModel } from "./side-model.ts";

/** One metric on one side. */
export interface Estimate extends LinearMetric {
  readonly sigma: number;
  /** Causes by their part of the variance, largest first. */
  readonly shares: readonly { readonly cause: string; readonly share: number }[];
  /** Why the value does not exist. */
  readonly reason?: string;
}

export interface SideEstimates {
  readonly side: Side;
  readonly model: SideModel;
  readonly causes: ReadonlyMap<string, Cause>;
  /** In the order of the requests. */
  readonly estimates: readonly Estimate[];
}

/** Told after each piece of work; answering false cancels. */
export type Progress = (done: number, total: number, what: string) => boolean;

/** Thrown when the caller cancels. */
export class Cancelled extends Error {
  override readonly name = "Cancelled";

  constructor() {
    super("Cancelled");
  }
}

function estimateOf(value: number, reason: string | undefined, shifts: Map<string, number>): Estimate {
  const variance = [...shifts.values()].reduce((sum, shift) => sum + shift * shift, 0);
  const shares = [...shifts]
    .map(([cause, shift]) => ({ cause, share: variance > 0 ? (shift * shift) / variance : 0 }))
    .filter(({ share }) => share > 0)
    .sort((a, b) => b.share - a.share);
  return { value, shifts, sigma: Math.sqrt(variance), shares, ...(reason !== undefined && { reason }) };
}

/**
 * Step of a cause, in standard deviations: a thousandth of the curvature is left, and of rounding a ten-thousandth of the shift.
 */
const step = 0.002;

/** Which side, of which metrics, and whether their doubt is wanted too. */
export interface EstimateOptions {
  readonly requests: readonly MetricRequest[];
  readonly doubt: boolean;
}

/** How far the estimates of a side are; the values are known from the first piece on. */
export interface EstimatePiece {
  readonly done: number;
  readonly total: number;
  readonly values: readonly MetricValue[];
  readonly model: SideModel;
}

/**
 * Estimates of several metrics on one side, piece by piece: yields before each cause of doubt, so that whoever drains it can breathe,
 * tell how far it is, show what is known already, or stop.
 */
export function* estimateInPieces(
  chip: Chip,
  side: Side,
  options: EstimateOptions & { readonly near?: SideModel },
): Generator<EstimatePiece, SideEstimates, void> {
  const { requests, doubt, near } = options;
  const model = chip.side(side, near === undefined ? {} : { near });
  const middle = requests.map((request) => model.valueOf(request));
  model.forgetNear();
  const causes = new Map([...model.scope.causes].filter(([, cause]) => cause.sigma > 0));
  const shifts = requests.map(() => new Map<string, number>());
  let done = 0;
  for (const cause of doubt ? causes.keys() : []) {
    yield { done: done++, total: causes.size, values: middle, model };
    const moved = chip.side(side, { deviations: new Map([[cause, step]]), near: model, firstOrder: true });
    requests.forEach((request, i) => {
      if (!Number.isFinite(middle[i]!.value)) return;
      const shift = (moved.valueOf(request).value - middle[i]!.value) / step;
      if (Number.isFinite(shift) && shift !== 0) shifts[i]!.set(cause, shift);
    });
  }
  return { side, model, causes, estimates: middle.map(({ value, reason }, i) => estimateOf(value, reason, shifts[i]!)) };
}

/** Estimates of several metrics on one side. */
export function estimateSide(chip: Chip, side: Side, options: EstimateOptions & { readonly progress?: Progress }): SideEstimates {
  const pieces = estimateInPieces(chip, side, options);
  for (;;) {
    const piece = pieces.next();
    if (piece.done === true) return piece.value;
    const { done, total } = piece.value;
    if (options.progress?.(done, total, `doubt ${side === "drawn" ? "as drawn" : "as built"}`) === false) throw new Cancelled();
  }
}
