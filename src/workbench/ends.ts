/**
 * Ends of beams that numbers of the text set: which numbers move an end, and how far. The page takes hold of an end and changes these.
 *
 * Finite differences of the drawing by every length and angle of the device. Of the numbers that move an end the one is best that drags
 * least of the device along; a number that changes the beam itself goes before one that only carries it. The second is the best of those
 * that move the end another way. Error: differences over 1e-3 of a number, so that a way drawn along an arc of radius R is off by d^2/2R.
 * Main test: ends.test.ts.
 */
import { dimensionNamed, InputError, parsePhrase, parseUnit, sameDimension } from "#base";
import { type Chip, EvaluationError, type Handle, handleOf, numberFrom, phraseWithNumber } from "#chip";
import type { Part } from "#devices";

type BeamPart = Extract<Part, { kind: "beam" }>;

export interface EndNumber {
  readonly handle: Handle;
  /** How far the end moves for one unit of the number as written, [m]. */
  readonly move: readonly [x: number, y: number];
}

/** An end of a beam that can be taken hold of. */
export interface BeamEnd {
  readonly part: string;
  readonly end: "start" | "end";
  /** One or two, the best first. */
  readonly numbers: readonly EndNumber[];
}

/** Part of a number by which it is moved, and the least step where it is 0, in its unit. */
const [partOfNumber, leastStep] = [1e-3, 1e-3];
/** A number changes the beam itself if it moves one of its ends against the other by this part of its motion. */
const ownPart = 0.3;
/** A number that only carries the beam counts as if it dragged along this many times what it does. */
const carryPenalty = 3;
/** Sine of the least angle between the ways of two numbers. */
const apart = 0.3;
/** Motion below which an end is not set by a number, as a part of the motion of the end that it moves most. */
const leastPart = 1e-3;

const beamsOf = (chip: Chip, device: string): readonly BeamPart[] =>
  chip
    .side("drawn")
    .assemblyOf(device)
    .parts.filter((part) => part.kind === "beam");

/** x and y of both ends of each beam, [4 nBeams] m. */
const endsIn = (beams: readonly BeamPart[]): Float64Array =>
  Float64Array.from(beams.flatMap(({ line }) => [line[0]!, line[1]!, line[line.length - 2]!, line[line.length - 1]!]));

/** Motion of all ends for one unit of a number, [4 nBeams] m; undefined where the device does not fit together beside its value. */
function columnOf(
  chip: Chip,
  at: { readonly device: string; readonly handle: Handle; readonly beams: readonly BeamPart[] },
): Float64Array | undefined {
  const { device, handle, beams } = at;
  const quantity = chip.addresses.at(handle.key)!;
  const value = numberFrom(handle.digits);
  const next = value === 0 ? leastStep : value * (1 + partOfNumber);
  try {
    const changed = chip.withPhrase(quantity, parsePhrase(phraseWithNumber(quantity.text, String(next))));
    const moved = beamsOf(changed, device);
    if (moved.length !== beams.length || moved.some(({ name }, i) => name !== beams[i]!.name)) return undefined;
    const before = endsIn(beams);
    return endsIn(moved).map((place, i) => (place - before[i]!) / (next - value));
  } catch (error) {
    // a pitch that no longer divides its aperture: this number moves nothing by a little
    if (error instanceof EvaluationError || error instanceof InputError) return undefined;
    throw error;
  }
}

interface Column {
  readonly handle: Handle;
  readonly moves: Float64Array;
  readonly largest: number;
  /** Root mean square over all ends. */
  readonly mean: number;
}

const drawn = [dimensionNamed("length"), dimensionNamed("angle")];

/** Lengths and angles that the device is drawn from, each once, by the quantity that holds the number. */
function handlesOf(chip: Chip, device: string): readonly Handle[] {
  const handles = new Map<string, Handle>();
  for (const quantity of chip.addresses.all) {
    const [section, name] = quantity.path;
    if (section !== "parameters" && !(section === "devices" && name === device)) continue;
    const handle = handleOf(chip, quantity);
    if (!("key" in handle) || handle.whole || handle.unit === "") continue;
    const { dimension } = parseUnit(handle.unit);
    if (drawn.some((wanted) => sameDimension(dimension, wanted))) handles.set(handle.key, handle);
  }
  return [...handles.values()];
}

/** The numbers that set the end whose x stands at `i` of the columns. */
function numbersOf(columns: readonly Column[], i: number): readonly EndNumber[] {
  const other = i % 4 === 0 ? i + 2 : i - 2;
  const candidates = columns
    .map(({ handle, moves, largest, mean }) => {
      const move = [moves[i]!, moves[i + 1]!] as const;
      const way = Math.hypot(...move);
      const own = Math.hypot(move[0] - moves[other]!, move[1] - moves[other + 1]!);
      return {
        handle,
        move,
        way,
        largest,
        cost: (mean / way) * (own > ownPart * way ? 1 : carryPenalty),
        isOwn: own > ownPart * way,
      };
    })
    .filter(({ way, largest }) => way > leastPart * largest)
    .sort((a, b) => a.cost - b.cost);
  const [first] = candidates;
  // what only carries the beam, and nothing of its own, is better held in the words
  if (first === undefined || !candidates.some(({ isOwn }) => isOwn)) return [];
  const second = candidates.find(
    ({ move, way }) => Math.abs(first.move[0] * move[1] - first.move[1] * move[0]) > apart * first.way * way,
  );
  return [first, ...(second === undefined ? [] : [second])].map(({ handle, move }) => ({ handle, move }));
}

/** All ends of beams that numbers of the text set. */
export function endsOf(chip: Chip, device: string): readonly BeamEnd[] {
  const beams = beamsOf(chip, device);
  const columns = handlesOf(chip, device).flatMap((handle): Column[] => {
    const moves = columnOf(chip, { device, handle, beams });
    if (moves === undefined) return [];
    let [largest, squares] = [0, 0];
    for (let i = 0; i < moves.length; i += 2) {
      const way = Math.hypot(moves[i]!, moves[i + 1]!);
      largest = Math.max(largest, way);
      squares += way * way;
    }
    return largest > 0 ? [{ handle, moves, largest, mean: Math.sqrt((2 * squares) / moves.length) }] : [];
  });
  return beams.flatMap(({ name }, beam) =>
    (["start", "end"] as const).flatMap((end, side): BeamEnd[] => {
      const numbers = numbersOf(columns, 4 * beam + 2 * side);
      return numbers.length === 0 ? [] : [{ part: name, end, numbers }];
    }),
  );
}
