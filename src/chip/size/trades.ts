/**
 * What could be traded: one sensible step of each size in the text, up or down, with what it does to the limits and to the chance that all
 * of them hold; and which limit would give most if less were asked.
 *
 * Every step is first judged by derivatives; those that promise most are then solved in full. The doubt is that of the present design.
 * Main test: trades.test.ts.
 */
import { type Dimension, type EvidenceKind, normalQuantile, type QuantityText } from "#base";
import { comparedWith, type Need } from "../brief/need.ts";
import { pathKey } from "../evaluate/addresses.ts";
import type { Side } from "../evaluate/scope.ts";
import { linearSigma } from "../ledger/chance.ts";
import { marginOf } from "../ledger/margin.ts";
import type { Chip } from "../predict/chip.ts";
import { refuse } from "../predict/choose.ts";
import { type Estimate, estimateInPieces } from "../predict/estimate.ts";
import { numberOfPhrase } from "./adopt.ts";
import { nChanceSamples } from "./all-hold.ts";
import { type Axis, DesignSpace, homeOf, type SizeLimit, sizeLimits } from "./design-space.ts";
import { JointChance } from "./joint-chance.ts";
import { quantityWords } from "./quantity-words.ts";
import type { StudyStep } from "./study-step.ts";

/** A limit as the present design meets it. */
export interface TradedLimit {
  readonly requirement: string;
  /** Index of the requirement in the brief, and of the limit there. */
  readonly place: readonly [requirement: number, limit: number];
  readonly label: string;
  readonly dimension: Dimension;
  readonly need: Need;
  /** SI, and one standard deviation of it. */
  readonly value: number;
  readonly sigma: number;
}

/** A limit under a trade. */
export interface LimitChange {
  /** Number of the limit. */
  readonly limit: number;
  /** SI */
  readonly before: number;
  readonly after: number;
  /** Margins as a share of the limit. */
  readonly marginBefore: number;
  readonly marginAfter: number;
}

export interface Trade {
  /** The quantity in words, and its path key. */
  readonly name: string;
  readonly key: string;
  readonly dimension: Dimension;
  /** SI */
  readonly from: number;
  readonly to: number;
  /** Chance that all limits hold after it. */
  readonly chance: number;
  /** Limits whose margin changes by at least a per cent of the limit, largest change first. */
  readonly changes: readonly LimitChange[];
}

export interface Relaxation {
  /** Number of the limit. */
  readonly limit: number;
  readonly kind: "at least" | "at most";
  /** What is asked now, and what would be, SI. */
  readonly from: number;
  readonly to: number;
  readonly chance: number;
}

/** How the metric of each limit answers to a size. */
export interface Sensitivity {
  readonly name: string;
  readonly key: string;
  readonly dimension: Dimension;
  /** Present value, SI. */
  readonly value: number;
  /** [nLimits] derivative of each metric by the size, SI; NaN where there is none. */
  readonly slopes: Float64Array;
}

export interface Trades {
  readonly side: Side;
  /** Chance that all limits hold, as the text stands. */
  readonly chance: number;
  readonly limits: readonly TradedLimit[];
  /** Best first. */
  readonly trades: readonly Trade[];
  readonly relaxations: readonly Relaxation[];
  /** Of every size that a limit feels, in the order of the text. */
  readonly sensitivities: readonly Sensitivity[];
}

export interface TradeOptions {
  readonly side: Side;
  /** Only limits at this operating case; all limits where left out. */
  readonly caseName?: string;
  /** Names of the quantities; every drawn size of devices and parameters where left out. */
  readonly names?: readonly string[];
  /** Trades that are solved in full. */
  readonly count: number;
}

/** A twentieth of a number, rounded to 1, 2 or 5 times a power of ten. */
export function sensibleStep(number: number): number {
  const wanted = Math.abs(number) / 20;
  const power = 10 ** Math.floor(Math.log10(wanted));
  const distance = (factor: number): number => Math.abs(Math.log((factor * power) / wanted));
  const factor = [1, 2, 5, 10].reduce((a, b) => (distance(b) < distance(a) ? b : a));
  return Number((factor * power).toPrecision(6));
}

function isDrawn(quantity: QuantityText): boolean {
  const evidence: EvidenceKind = quantity.phrase.evidence ?? quantity.shape.evidence;
  return evidence === "drawn" && quantity.phrase.value.kind === "number" && ["parameters", "devices"].includes(quantity.path[0]!);
}

/** A size with its present value and a step that is round in the unit of the text. */
interface Candidate {
  readonly axis: Axis;
  readonly step: number;
}

function candidates(chip: Chip, names: readonly string[] | undefined): readonly Candidate[] {
  const quantities =
    names === undefined
      ? chip.addresses.all.filter(isDrawn)
      : names.map((name) => {
          const found = chip.addresses.find(name);
          if (found.kind !== "one") throw refuse(chip, `Cannot trade "${name}": ${chip.addresses.explain(name, found)}`);
          return homeOf(chip, found.quantity);
        });
  const { scope } = chip.side("drawn");
  return quantities.flatMap((quantity): Candidate[] => {
    const written = numberOfPhrase(chip, pathKey(quantity.path));
    if (written === undefined)
      throw refuse(
        chip,
        `Cannot trade "${quantityWords(chip, quantity)}": the text has "${quantity.text}", which is worked out. Name what it is worked out from.`,
      );
    const present = scope.amountOf(quantity);
    const step = sensibleStep(written.number) * Math.abs(written.perUnit);
    if (!(step > 0)) return [];
    const name = quantityWords(chip, quantity);
    const { value, dimension } = present;
    return [{ step, axis: { name, quantity, dimension, low: value - step, high: value + step, present: value } }];
  });
}

/** Limits relaxed one at a time, each to where it alone holds in 95 of 100. */
function relaxationsOf(
  limits: readonly SizeLimit[],
  work: { estimates: readonly Estimate[]; chance: number; chanceWith: (needs: readonly Need[]) => number },
): readonly Relaxation[] {
  const reach = normalQuantile(0.95);
  const found = limits.flatMap((limit, i): Relaxation[] => {
    const value = comparedWith(limit.need, work.estimates[i]!.value);
    const sigma = linearSigma(work.estimates[i]!);
    if (!Number.isFinite(value)) return [];
    return (["at least", "at most"] as const).flatMap((kind): Relaxation[] => {
      const fence = kind === "at least" ? limit.need.low : limit.need.high;
      const to = kind === "at least" ? value - reach * sigma : value + reach * sigma;
      if (fence === undefined || (kind === "at least" ? to >= fence : to <= fence)) return [];
      const eased: Need = { ...limit.need, [kind === "at least" ? "low" : "high"]: to };
      const chance = work.chanceWith(limits.map((other, k) => (k === i ? eased : other.need)));
      return [{ limit: i, kind, from: fence, to, chance }];
    });
  });
  return found.filter(({ chance }) => chance > work.chance).sort((a, b) => b.chance - a.chance);
}

/** Works out what could be traded, piece by piece. Throws InputError at the first piece where a name is not known. */
export function* tradesInSteps(chip: Chip, options: TradeOptions): Generator<StudyStep, Trades, void> {
  const { side } = options;
  const limits = sizeLimits(chip, options.caseName);
  const sizes = candidates(chip, options.names);
  const requests = limits.map(({ request }) => request);
  const pieces = estimateInPieces(chip, side, { requests, doubt: true });
  let piece = pieces.next();
  for (; piece.done !== true; piece = pieces.next()) yield { what: "doubt", done: piece.value.done, total: piece.value.total };
  const base = piece.value;
  const { estimates } = base;
  const joint = new JointChance([...base.causes.values()], nChanceSamples);
  const shifts = Float64Array.from(estimates.flatMap((estimate) => [...joint.shiftsOf(estimate.shifts)]));
  const needs = limits.map(({ need }) => need);
  const before = estimates.map(({ value }) => value);
  const chance = joint.of(before, shifts, needs);
  const sensitivities: Sensitivity[] = [];
  const judged: { axis: Axis; to: number; chance: number; least: number }[] = [];
  for (const [done, { axis, step }] of sizes.entries()) {
    yield { what: "sizes", done, total: sizes.length };
    const space = new DesignSpace(chip, [axis], side);
    const small = 1e-4 * step;
    const neighbour = space.firstOrder(Float64Array.of(axis.present + small), requests, base.model);
    if (neighbour === undefined) continue;
    const slopes = neighbour.map((value, i) => (value - before[i]!) / small);
    // what no limit feels is no trade
    if (slopes.every((slope, i) => !(Math.abs(slope * step) > 1e-4 * Math.abs(before[i]!)))) continue;
    const { name, quantity, dimension, present } = axis;
    sensitivities.push({ name, key: pathKey(quantity.path), dimension, value: present, slopes });
    for (const way of [-step, step]) {
      const after = before.map((value, i) => value + (Number.isFinite(slopes[i]) ? slopes[i]! : 0) * way);
      const least = Math.min(...after.map((value, i) => marginOf(value, needs[i]!, { found: value })).filter(Number.isFinite));
      judged.push({ axis, to: present + way, chance: joint.of(after, shifts, needs), least });
    }
  }
  judged.sort((a, b) => b.chance - a.chance || b.least - a.least);
  const trades: Trade[] = [];
  const chosen = judged.slice(0, options.count);
  for (const [done, { axis, to }] of chosen.entries()) {
    yield { what: "trades in full", done, total: chosen.length };
    const solved = new DesignSpace(chip, [axis], side).solve(Float64Array.of(to), requests, { near: base.model, slopes: false });
    const changes = needs
      .map((need, i): LimitChange => {
        const margin = (value: number): number => marginOf(value, need, { found: before[i]! });
        const after = solved.values[i]!;
        return { limit: i, before: before[i]!, after, marginBefore: margin(before[i]!), marginAfter: margin(after) };
      })
      .filter(({ marginBefore, marginAfter }) => !(Math.abs(marginAfter - marginBefore) < 0.01))
      .sort((a, b) => Math.abs(b.marginAfter - b.marginBefore) - Math.abs(a.marginAfter - a.marginBefore));
    trades.push({
      name: axis.name,
      key: pathKey(axis.quantity.path),
      dimension: axis.dimension,
      from: axis.present,
      to,
      chance: joint.of(solved.values, shifts, needs),
      changes,
    });
  }
  return {
    side,
    chance,
    limits: limits.map(({ requirement, place, label, dimension, need }, i) => ({
      requirement,
      place,
      label,
      dimension,
      need,
      value: before[i]!,
      sigma: linearSigma(estimates[i]!),
    })),
    trades: trades.sort((a, b) => b.chance - a.chance),
    relaxations: relaxationsOf(limits, { estimates, chance, chanceWith: (eased) => joint.of(before, shifts, eased) }),
    sensitivities,
  };
}
