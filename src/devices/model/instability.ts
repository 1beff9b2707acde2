/**
 * Where a device loses its stability as its case grows, which states of balance its case has, and the state that a case follows to.
 *
 * A case grows along the straight way from the device at rest (the bond strain alone) to all its loads, held motions and strains: that
 * way is walked through limit points, and branches are taken where it forks (#physics trace.ts). Validity and error: as there; elements
 * are refined until the factor or the motion is right to 1e-4. Islands, states that no branch leads to, are not found.
 * Main test: test/verification/instability.test.ts.
 */
import type { Finding } from "#base";
import {
  estimateDiscretisation,
  type FrameEquilibrium,
  type FrameLoad,
  type FrameModel,
  findAllStates,
  findSpecialState,
  type NoSpecialState,
  type SpecialState,
} from "#physics";
import { type DeviceParts, refineFrame } from "./device-parts.ts";
import type { Loads } from "./drive.ts";
import type { FreeStrains } from "./free-strains.ts";
import type { Motion, NoMotion } from "./mechanics.ts";

/** Which state of balance a case looks at, counted along the way from rest: not the one that it comes to by itself. */
export interface Follow {
  readonly to: "state" | "turning point";
  /** 1 for the first. */
  readonly count: number;
}

/** A case that a device of any number of elements can be put under. */
export interface GrowingCase {
  readonly strainsOf: (parts: DeviceParts) => FreeStrains;
  readonly loads: Loads;
}

/** What the number of elements may leave of a factor or a motion, and how fine beams are cut at most. */
const target = 1e-4;
const mostElements = 200;
/** Cases are grown to at most this multiple of themselves. */
const largestFactor = 100;
/** States are sought on ways that stay within this multiple of the case, on so many branches: a wider search costs seconds. */
const stateReach = 10;
const mostPaths = 9;

function loadOf(parts: DeviceParts, at: GrowingCase): FrameLoad {
  return parts.mechanics.loadOf(at.strainsOf(parts), at.loads);
}

/** A limit or branching point of that count with elements fine enough for it, or why there is none. */
function refinedSpecial(
  coarse: DeviceParts,
  at: GrowingCase,
  count: number,
): { readonly parts: DeviceParts; readonly special: SpecialState } | { readonly reason: string } {
  const findAt = (parts: DeviceParts): SpecialState | NoSpecialState =>
    findSpecialState(parts.mechanics.model, loadOf(parts, at), { count, largestFactor, start: parts.mechanics.rest.state });
  let last = findAt(coarse);
  for (let parts = refineFrame(coarse, 1.5); ; parts = refineFrame(parts, 1.5)) {
    const special = findAt(parts);
    if (special.kind === "none")
      return { reason: `grown to ${special.reachedFactor.toPrecision(3)} times itself the case meets no such point` };
    // elements finer by 1.5 leave a fifth of the error, which is of the fourth order
    const change = last.kind === "none" ? Number.NaN : Math.abs(special.loadFactor - last.loadFactor) / 4;
    if (change <= target * Math.abs(special.loadFactor) || parts.elements.leg >= mostElements) return { parts, special };
    last = special;
  }
}

function statesOf(parts: DeviceParts, at: GrowingCase): readonly FrameEquilibrium[] {
  return findAllStates(parts.mechanics.model, loadOf(parts, at), {
    start: parts.mechanics.rest.state,
    factorRange: [-stateReach, stateReach],
    mostPaths,
  });
}

/** The load that a state is balanced by, per beam again. */
function loadOfState(model: FrameModel, { load }: FrameEquilibrium): FrameLoad {
  const { firstElement } = model.topology;
  const perBeam = (values: Float64Array): Float64Array[] =>
    model.network.beams.map((_, b) => values.slice(firstElement[b]!, firstElement[b + 1]!));
  return { ...load, strains: perBeam(load.strains), moduli: perBeam(load.moduli) };
}

/** A state that a case follows to, with elements fine enough for it. */
export interface FollowedMotion {
  readonly parts: DeviceParts;
  readonly motion: Motion | NoMotion;
  /** Part of the case that balances it. */
  readonly loadFactor: number;
}

export function followMotion(parts: DeviceParts, at: GrowingCase, follow: Follow): FollowedMotion {
  const none = (reason: string): FollowedMotion => ({
    parts,
    loadFactor: Number.NaN,
    motion: {
      reason,
      finding: { code: "no-such-state", severity: "error", where: "beams", message: `Cannot follow to the state: ${reason}.` },
    },
  });
  if (follow.to === "turning point") {
    const found = refinedSpecial(parts, at, follow.count);
    if ("reason" in found) return none(found.reason);
    const { model } = found.parts.mechanics;
    const { state, loadFactor } = found.special;
    return { parts: found.parts, loadFactor, motion: { model, load: loadOfState(model, state), state } };
  }
  for (let finer = parts; ; ) {
    const { model } = finer.mechanics;
    const states = statesOf(finer, at);
    const state = states[follow.count - 1];
    if (state === undefined)
      return none(states.length === 1 ? "the case has one state of balance" : `the case has ${states.length} states of balance`);
    const { relative } = estimateDiscretisation(model, state);
    if (!(relative > target) || finer.elements.leg >= mostElements)
      return { parts: finer, loadFactor: 1, motion: { model, load: loadOf(finer, at), state } };
    finer = refineFrame(finer, Math.max(1.25, 1.2 * (relative / target) ** 0.25));
  }
}

/** What is asked about the stability of one operating point, worked out when it is asked. */
export class Instability {
  private specialMade: { readonly factor: number; readonly reason?: string } | undefined;
  private statesMade: readonly FrameEquilibrium[] | undefined;

  constructor(
    private readonly parts: DeviceParts,
    private readonly growing: GrowingCase,
    private readonly shown: {
      readonly motion: Motion | NoMotion;
      readonly loadFactor: number;
      readonly follow: Follow | undefined;
    },
  ) {}

  /** Part of the case that balances the state shown: 1 but for a turning point. */
  get loadFactor(): number {
    return this.shown.loadFactor;
  }

  /** Factor on the case at which the device first buckles or snaps. */
  get critical(): { readonly factor: number; readonly reason?: string } {
    if (this.specialMade === undefined) {
      const found = refinedSpecial(this.parts, this.growing, 1);
      this.specialMade = "reason" in found ? { factor: Number.NaN, reason: found.reason } : { factor: found.special.loadFactor };
    }
    return this.specialMade;
  }

  /** States of balance under the case, in the order in which the way from rest and its branches meet them. */
  get states(): readonly FrameEquilibrium[] {
    this.statesMade ??= statesOf(this.parts, this.growing);
    return this.statesMade;
  }

  findings(): readonly Finding[] {
    const { motion, follow } = this.shown;
    if (follow?.to === "turning point") return [];
    const { states } = this;
    const at = "state" in motion ? placeAmong(states, motion.state) : -1;
    if (states.length === 0 || (states.length === 1 && at === 0 && states[0]!.nNegative === 0)) return [];
    const stable = states.flatMap(({ nNegative }, i) => (nNegative === 0 ? [i] : []));
    const other = stable.find((i) => i !== at) ?? states.findIndex((_, i) => i !== at);
    return [
      {
        code: "several-shapes",
        severity: "warning",
        where: "device",
        message: `${countOf(states.length, stable)}; ${at < 0 ? "none of them is shown" : `shown is ${at + 1}`}. Write follow: { state: ${other + 1} } in the case to look at ${states.length > 2 ? "another" : "it"}.`,
      },
    ];
  }
}

/** Unstable states are passed through and not kept, so that they are not counted where there are stable ones. */
function countOf(nStates: number, stable: readonly number[]): string {
  const states = (n: number): string => (n === 1 ? "one state of balance" : `${n} states of balance`);
  if (stable.length === 0) return `The case has ${states(nStates)} on the way from rest, none of them stable`;
  const numbers = stable.map((i) => i + 1).join(", ");
  return `The case has ${states(stable.length).replace("state", "stable state")} on the way from rest, number ${numbers} of ${nStates}`;
}

/** Motions and turns below this are rounding: a device that nothing moves has nothing else, [m], [rad]. */
const noMotion = 1e-9;

/** Which of the states it is; -1 where none of them. */
function placeAmong(states: readonly FrameEquilibrium[], state: FrameEquilibrium): number {
  const size = Math.max(noMotion, Math.hypot(...state.motions));
  return states.findIndex(
    ({ motions }) =>
      motions.length === state.motions.length &&
      Math.hypot(...motions.map((value, i) => value - state.motions[i]!)) <= 1e-6 * size,
  );
}
