/**
 * How much the cutting of the beams into elements changes an answer, and how many elements make it small enough.
 *
 * The same frame with every element halved is solved from the interpolated state (one to three factorisations of twice the size). The
 * element converges at the fourth order in its length, so 16/15 of the change is the error of the coarser frame. The drawn polygon of a
 * curved beam stays as it is: that error (second order) is not seen here.
 * Main test: discretisation.test.ts.
 */
import { elementSize, resultantAt } from "./beam-element.ts";
import { resolveLoad } from "./load-path.ts";
import { createFrameModel, type FrameModel } from "./model.ts";
import type { FrameBeam, FrameLoad } from "./network.ts";
import type { FrameState } from "./state.ts";

export interface DiscretisationError {
  /** Largest error of a junction displacement against the largest displacement, and of a turn against the largest turn; NaN where the finer frame has no such state. */
  readonly relative: number;
  /** Estimated exact motions minus those of the state, [nJunctions × 3] m, m, rad. */
  readonly missing: Float64Array;
}

/** Motion over the span of a frame below which it is rounding: a tenth of a picometre of a millimetre. */
const leastMove = 1e-10;

/** Error by the length of the elements, estimated by halving them. */
export function estimateDiscretisation(model: FrameModel, state: FrameState): DiscretisationError {
  const finer = createFrameModel({ ...model.network, beams: model.network.beams.map(halve) });
  const found = finer.solve(finerLoad(model, state), {
    start: interpolate(model, state, finer),
    allowUnstable: state.nNegative > 0,
  });
  const n = 3 * model.topology.nJunctions;
  if (found.outcome === "no equilibrium") return { relative: Number.NaN, missing: new Float64Array(n).fill(Number.NaN) };
  const missing = Float64Array.from({ length: n }, (_, i) => (16 / 15) * (found.motions[i]! - state.motions[i]!));
  // lengths of motions, not parts along x and y: the number of elements must not depend on how the frame lies
  const largestOf = (x: Float64Array): { move: number; turn: number } => {
    let [move, turn] = [0, 0];
    for (let i = 0; i < n; i += 3) {
      move = Math.max(move, Math.hypot(x[i]!, x[i + 1]!));
      turn = Math.max(turn, Math.abs(x[i + 2]!));
    }
    return { move, turn };
  };
  const whole = largestOf(state.motions);
  const error = largestOf(missing);
  if (whole.move === 0) return { relative: 0, missing };
  // what moves by rounding alone, as a device alike all around, has no error to speak of
  const span = largestSpan(model);
  const moves = Math.max(whole.move, leastMove * span);
  // a turn counts only where something turns: next to nothing of next to nothing is no error
  const turns = Math.max(whole.turn, moves / span);
  return { relative: Math.max(error.move / moves, error.turn / turns), missing };
}

/**
 * Elements per beam, [nBeams], with which the relative error should fall below `target`. Beams whose elements bend and press little
 * keep their number.
 */
export function recommendElements(model: FrameModel, state: FrameState, options: { readonly target: number }): Int32Array {
  const { relative } = estimateDiscretisation(model, state);
  // with a margin: coarse elements have not reached their order
  const factor = Number.isNaN(relative) ? 2 : Math.max(1, ((3 * relative) / options.target) ** 0.25);
  const { elements } = model.standAt(state, { factored: false });
  const { topology, numbers } = model;
  // local error of an element: bowing t^4/120, beam-column (N L^2/EI)^2/720
  const local = model.network.beams.map((_, b) => {
    let most = 0;
    for (let e = topology.firstElement[b]!; e < topology.firstElement[b + 1]!; e++) {
      const at = e * elementSize + resultantAt;
      const { shape, youngsModulus } = numbers.inputs[e]!;
      const bending = youngsModulus * shape.secondMoment;
      const turn = (Math.max(Math.abs(elements[at + 1]!), Math.abs(elements[at + 2]!)) * shape.length) / (4 * bending);
      const press = (elements[at]! * shape.length ** 2) / bending;
      most = Math.max(most, turn ** 4 / 120 + press ** 2 / 720);
    }
    return most;
  });
  const worst = Math.max(...local);
  return Int32Array.from(local, (own, b) => {
    const n = model.network.beams[b]!.widths.length;
    // an element 1/256 as bad as the worst may be four times as long
    return own > worst / 256 ? Math.ceil(n * factor - 1e-9) : n;
  });
}

function halve(beam: FrameBeam): FrameBeam {
  const n = beam.widths.length;
  const nodes = new Float64Array(2 * (2 * n + 1));
  for (let i = 0; i <= 2 * n; i++) {
    const a = 2 * Math.floor(i / 2);
    const b = 2 * Math.ceil(i / 2);
    for (let k = 0; k < 2; k++) nodes[2 * i + k] = 0.5 * (beam.nodes[a + k]! + beam.nodes[b + k]!);
  }
  const { tapers } = beam;
  if (tapers === undefined) return { ...beam, nodes, widths: double(beam.widths) };
  return {
    ...beam,
    nodes,
    widths: double(beam.widths).map((width, i) => width + ((i % 2 === 0 ? -1 : 1) * tapers[Math.floor(i / 2)]!) / 4),
    tapers: double(tapers).map((taper) => taper / 2),
  };
}

function double(values: Float64Array): Float64Array {
  return Float64Array.from({ length: 2 * values.length }, (_, i) => values[Math.floor(i / 2)]!);
}

function finerLoad(model: FrameModel, state: FrameState): FrameLoad {
  const { load } = state;
  const { firstElement } = model.topology;
  const perBeam = (values: Float64Array): Float64Array[] =>
    model.network.beams.map((_, b) => double(values.slice(firstElement[b]!, firstElement[b + 1]!)));
  return { ...load, strains: perBeam(load.strains), moduli: perBeam(load.moduli) };
}

/** The state on the finer frame: middles of the elements on the cubic through their ends. */
function interpolate(model: FrameModel, state: FrameState, finer: FrameModel): FrameState {
  const allMotions = new Float64Array(finer.topology.nMotions);
  allMotions.set(state.motions);
  const old = state.allMotions;
  model.network.beams.forEach((beam, b) => {
    const from = model.topology.nodesAt[b]!;
    const to = finer.topology.nodesAt[b]!;
    for (let i = 0; i < beam.widths.length; i++) {
      const s = from + 3 * i;
      const t = to + 6 * i;
      allMotions.set(old.subarray(s, s + 3), t);
      const { dx, dy } = model.numbers.inputs[model.topology.firstElement[b]! + i]!.shape;
      const cx = dx + old[s + 3]! - old[s]!;
      const cy = dy + old[s + 4]! - old[s + 1]!;
      const mean = 0.5 * (old[s + 2]! + old[s + 5]!);
      const chord = Math.atan2(dx * cy - dy * cx, dx * cx + dy * cy);
      const turn = chord + 2 * Math.PI * Math.round((mean - chord) / (2 * Math.PI));
      // sag of the cubic at its middle along the normal of the chord; length and chord differ by the strain only
      const sag = (old[s + 2]! - old[s + 5]!) / 8;
      allMotions[t + 3] = 0.5 * (old[s]! + old[s + 3]!) - sag * cy;
      allMotions[t + 4] = 0.5 * (old[s + 1]! + old[s + 4]!) + sag * cx;
      allMotions[t + 5] = turn - 0.5 * (mean - turn);
    }
    const last = from + 3 * beam.widths.length;
    allMotions.set(old.subarray(last, last + 3), to + 6 * beam.widths.length);
  });
  allMotions.set(old.subarray(model.topology.stopsAt), finer.topology.stopsAt);
  return {
    allMotions,
    motions: allMotions.subarray(0, state.motions.length),
    isClosed: state.isClosed,
    load: resolveLoad(finerLoad(model, state), finer),
    reactions: state.reactions,
    nNegative: state.nNegative,
  };
}

/** Largest distance between two junctions, [m]. */
function largestSpan(model: FrameModel): number {
  const { junctions } = model.network;
  return junctions.reduce((most, a, j) => {
    let own = most;
    for (let k = 0; k < j; k++) own = Math.max(own, Math.hypot(a.x - junctions[k]!.x, a.y - junctions[k]!.y));
    return own;
  }, 0);
}
