/**
 * Random devices that make sense: a chain of beams between two anchors, with plates and joints on its way, branches that end free or on
 * a third anchor, and idealised parts at its points. Beams of a chain run to the right and branches upward, so that nothing crosses.
 * Held as data, so that a test can move, mirror, rename or scale a device before it is written as text.
 */
import type { RandomSource } from "#base";

export type Vector = readonly [x: number, y: number];

export interface BeamDraft {
  readonly kind: "beam";
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** [um] */
  readonly widths: readonly [start: number, end: number];
  /** Height of its middle over its chord [um]; undefined where it is straight. */
  readonly rise: number | undefined;
  readonly shape: "arc" | "cosine";
}

export interface PlateDraft {
  readonly kind: "plate";
  readonly name: string;
  readonly at: string;
  readonly size: Vector;
  /** [deg] */
  readonly turn: number;
  readonly bends: boolean;
  readonly openings: "holes" | "slits" | undefined;
}

export interface AnchorDraft {
  readonly kind: "anchor";
  readonly name: string;
  readonly at: string;
  readonly size: number;
  readonly turn: number;
  readonly wire: string | undefined;
  /** [K/W]; undefined: ideal. */
  readonly resistance: number | undefined;
}

export interface StopDraft {
  readonly kind: "stop";
  readonly name: string;
  readonly at: string;
  /** [deg] */
  readonly direction: number;
  /** [um] */
  readonly gap: number;
}

export interface SpringDraft {
  readonly kind: "spring";
  readonly name: string;
  readonly at: string;
  /** Alike along x and y, [N/m]. */
  readonly stiffness: number;
}

export interface LumpDraft {
  readonly kind: "lump";
  readonly name: string;
  readonly at: string;
  /** [ug] */
  readonly mass: number;
  /** [mW/K] */
  readonly leak: number;
}

export type PartDraft = BeamDraft | PlateDraft | AnchorDraft | StopDraft | SpringDraft | LumpDraft;

export interface Draft {
  /** [um] */
  readonly points: ReadonlyMap<string, Vector>;
  readonly parts: readonly PartDraft[];
  /** Forces [uN] and moments [nN m] on points. */
  readonly forces: ReadonlyMap<string, readonly [x: number, y: number, turn: number]>;
  /** Of the die, [m/s^2]. */
  readonly acceleration: Vector;
  /** [V] */
  readonly pads: number;
  /** Silicon thickness, [um]. */
  readonly thickness: number;
  /** Of every underside [W/(m^2 K)]; undefined: none. */
  readonly film: number | undefined;
}

const between = (random: RandomSource, low: number, high: number): number => low + (high - low) * random.uniform();
const chance = (random: RandomSource, share: number): boolean => random.uniform() < share;

function drawnBeam(random: RandomSource, name: string, ends: readonly [from: string, to: string]): BeamDraft {
  const width = between(random, 4, 10);
  const isCurved = chance(random, 0.3);
  return {
    kind: "beam",
    name,
    from: ends[0],
    to: ends[1],
    widths: [width, !isCurved && chance(random, 0.3) ? width * between(random, 0.6, 1.6) : width],
    rise: isCurved ? between(random, -8, 8) : undefined,
    shape: chance(random, 0.5) ? "arc" : "cosine",
  };
}

function drawnPlate(random: RandomSource, name: string, at: string): PlateDraft {
  return {
    kind: "plate",
    name,
    at,
    size: [between(random, 56, 80), between(random, 50, 70)],
    turn: between(random, -40, 40),
    bends: chance(random, 0.4),
    openings: chance(random, 0.3) ? "holes" : chance(random, 0.4) ? "slits" : undefined,
  };
}

function drawnAnchor(random: RandomSource, name: string, at: string): AnchorDraft {
  return {
    kind: "anchor",
    name,
    at,
    size: between(random, 60, 100),
    turn: between(random, -40, 40),
    wire: name === "left" ? "plus" : name === "right" ? "minus" : undefined,
    resistance: chance(random, 0.5) ? undefined : between(random, 200, 2000),
  };
}

/** Something idealised at a point; a plate carries at most one, as they must lie where its motion is told. */
function drawnIdealised(random: RandomSource, name: string, at: string): PartDraft {
  switch (random.whole(3)) {
    case 0:
      return { kind: "stop", name, at, direction: between(random, -180, 180), gap: between(random, 0.02, 3) };
    case 1:
      return { kind: "spring", name, at, stiffness: between(random, 1, 100) };
    default:
      return { kind: "lump", name, at, mass: between(random, 0.1, 2), leak: between(random, 0, 0.05) };
  }
}

export function drawRandomly(random: RandomSource): Draft {
  const points = new Map<string, Vector>();
  const parts: PartDraft[] = [];
  const forces = new Map<string, readonly [number, number, number]>();
  const nBeams = 2 + random.whole(3);
  let x = -500;
  let nPlates = 0;
  for (let i = 0; i <= nBeams; i++) {
    const name = `node ${i}`;
    points.set(name, [x, between(random, -60, 60)]);
    x += between(random, 160, 350);
    if (i === 0 || i === nBeams) {
      parts.push(drawnAnchor(random, i === 0 ? "left" : "right", name));
      continue;
    }
    if (nPlates < 2 && chance(random, 0.5)) parts.push(drawnPlate(random, `plate ${++nPlates}`, name));
    if (chance(random, 0.4)) parts.push(drawnIdealised(random, `thing ${i}`, name));
    if (chance(random, 0.6)) forces.set(name, [between(random, -20, 20), between(random, -20, 20), between(random, -0.5, 0.5)]);
  }
  for (let i = 0; i < nBeams; i++) parts.push(drawnBeam(random, `beam ${i}`, [`node ${i}`, `node ${i + 1}`]));
  // one or two branches, of which one may end on an anchor
  for (let i = 1; i < nBeams; i++) {
    if (parts.filter(({ kind }) => kind === "beam").length >= 8 || !chance(random, 0.5)) continue;
    const [fromX, fromY] = points.get(`node ${i}`)!;
    const end = `end ${i}`;
    points.set(end, [fromX + between(random, -30, 30), fromY + between(random, 180, 350)]);
    parts.push(drawnBeam(random, `branch ${i}`, [`node ${i}`, end]));
    if (i === 1 && chance(random, 0.3)) parts.push(drawnAnchor(random, "third", end));
    else forces.set(end, [between(random, -5, 5), between(random, -5, 5), 0]);
  }
  return {
    points,
    parts,
    forces,
    acceleration: chance(random, 0.5) ? [between(random, -1000, 1000), between(random, -1000, 1000)] : [0, 0],
    pads: between(random, 0.3, 2),
    thickness: between(random, 20, 50),
    film: chance(random, 0.5) ? between(random, 100, 3000) : undefined,
  };
}

/* ---------------------------------------------------------------- the same device otherwise */

/** Turned by an angle [deg] and moved; mirrored about the y axis first where asked. */
export interface Move {
  readonly isMirrored: boolean;
  readonly turn: number;
  readonly shift: Vector;
}

export function moveVector([x, y]: Vector, { isMirrored, turn }: Move): Vector {
  const angle = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const mirrored = isMirrored ? -x : x;
  return [c * mirrored - s * y, s * mirrored + c * y];
}

export function moveDraft(draft: Draft, move: Move): Draft {
  const sign = move.isMirrored ? -1 : 1;
  const turned = (angle: number): number => move.turn + sign * angle;
  const direction = (angle: number): number => {
    const turned = move.turn + (move.isMirrored ? 180 - angle : angle);
    return turned - 360 * Math.round(turned / 360);
  };
  return {
    ...draft,
    points: new Map(
      [...draft.points].map(([name, place]) => {
        const [x, y] = moveVector(place, move);
        return [name, [x + move.shift[0], y + move.shift[1]]];
      }),
    ),
    parts: draft.parts.map((part): PartDraft => {
      switch (part.kind) {
        case "anchor":
        case "plate":
          return { ...part, turn: turned(part.turn) };
        case "beam":
          return { ...part, rise: part.rise === undefined ? undefined : sign * part.rise };
        case "stop":
          return { ...part, direction: direction(part.direction) };
        default:
          return part;
      }
    }),
    forces: new Map([...draft.forces].map(([name, [x, y, turn]]) => [name, [...moveVector([x, y], move), sign * turn] as const])),
    acceleration: moveVector(draft.acceleration, move),
  };
}

/** Every name changed, and every list in another order. */
export function renameDraft(
  draft: Draft,
  random: RandomSource,
): { readonly draft: Draft; readonly nameOf: (name: string) => string } {
  const nameOf = (name: string): string =>
    `z${[...name]
      .reverse()
      .join("")
      .replace(/[^a-z0-9]/g, "x")}`;
  const shuffled = <T>(values: readonly T[]): T[] =>
    values
      .map((value) => [random.uniform(), value] as const)
      .sort(([a], [b]) => a - b)
      .map(([, value]) => value);
  const parts = draft.parts.map((part): PartDraft => {
    const name = nameOf(part.name);
    return part.kind === "beam"
      ? { ...part, name, from: nameOf(part.from), to: nameOf(part.to) }
      : { ...part, name, at: nameOf(part.at) };
  });
  return {
    nameOf,
    draft: {
      ...draft,
      points: new Map(shuffled([...draft.points]).map(([name, place]) => [nameOf(name), place])),
      parts: shuffled(parts),
      forces: new Map(shuffled([...draft.forces]).map(([name, force]) => [nameOf(name), force])),
    },
  };
}

/** All lengths times a factor; what acts scaled so that temperatures, strains and stresses stay. */
export function scaleDraft(draft: Draft, factor: number): Draft {
  const scaled = ([x, y]: Vector): Vector => [factor * x, factor * y];
  return {
    ...draft,
    points: new Map([...draft.points].map(([name, place]) => [name, scaled(place)])),
    parts: draft.parts.map((part): PartDraft => {
      switch (part.kind) {
        case "anchor":
          return {
            ...part,
            size: factor * part.size,
            resistance: part.resistance === undefined ? undefined : part.resistance / factor,
          };
        case "plate":
          return { ...part, size: scaled(part.size) };
        case "beam":
          return {
            ...part,
            widths: [factor * part.widths[0], factor * part.widths[1]],
            rise: part.rise === undefined ? undefined : factor * part.rise,
          };
        case "stop":
          return { ...part, gap: factor * part.gap };
        case "spring":
          return { ...part, stiffness: factor * part.stiffness };
        default:
          return { ...part, mass: factor ** 3 * part.mass, leak: factor * part.leak };
      }
    }),
    forces: new Map(
      [...draft.forces].map(([name, [x, y, turn]]) => [name, [factor ** 2 * x, factor ** 2 * y, factor ** 3 * turn] as const]),
    ),
    // mass grows with the third power, force with the second
    acceleration: [draft.acceleration[0] / factor, draft.acceleration[1] / factor],
    thickness: factor * draft.thickness,
    film: draft.film === undefined ? undefined : draft.film / factor,
  };
}

/* ---------------------------------------------------------------- as text */

/** Units that the text is written in. */
export interface Units {
  readonly length: "nm" | "um" | "mm";
  readonly force: "nN" | "uN" | "mN";
  readonly voltage: "mV" | "V";
  readonly isCelsius: boolean;
  readonly leak: "uW/K" | "mW/K" | "W/K";
  readonly mass: "ng" | "ug" | "kg";
}

export const usualUnits: Units = { length: "um", force: "uN", voltage: "V", isCelsius: false, leak: "mW/K", mass: "ug" };
export const otherUnits: readonly Units[] = [
  { length: "nm", force: "nN", voltage: "mV", isCelsius: true, leak: "uW/K", mass: "ng" },
  { length: "mm", force: "mN", voltage: "V", isCelsius: true, leak: "W/K", mass: "kg" },
];

const perLength = { nm: 1e3, um: 1, mm: 1e-3 } as const;
const perForce = { nN: 1e3, uN: 1, mN: 1e-3 } as const;
const perVoltage = { mV: 1e3, V: 1 } as const;
const perLeak = { "uW/K": 1e3, "mW/K": 1, "W/K": 1e-3 } as const;
const perMass = { ng: 1e3, ug: 1, kg: 1e-9 } as const;

export function partText(part: PartDraft, units: Units): string {
  const long = (value: number): string => `${perLength[units.length] * value} ${units.length}`;
  const fields = ((): readonly string[] => {
    switch (part.kind) {
      case "beam":
        return [
          `from: ${part.from}, to: ${part.to}, width: ${long(part.widths[0])}`,
          ...(part.widths[1] === part.widths[0] ? [] : [`end width: ${long(part.widths[1])}`]),
          ...(part.rise === undefined ? [] : [`rise: ${long(part.rise)}, shape: ${part.shape}`]),
        ];
      case "plate": {
        const [width, height] = part.size;
        const openings =
          part.openings === "holes"
            ? [`holes: { columns: 2, rows: 2, side: ${long(0.15 * height)}, pitch: ${long(0.3 * height)} }`]
            : part.openings === "slits"
              ? [
                  `slits: { count: 3, width: ${long(0.08 * height)}, pitch: ${long(0.25 * height)}, lengths: 1, length: ${long(0.6 * width)} }`,
                ]
              : [];
        return [
          `at: ${part.at}, width: ${long(width)}, height: ${long(height)}, turn: ${part.turn} deg`,
          ...(part.bends ? ["bends: yes"] : []),
          ...openings,
        ];
      }
      case "anchor":
        return [
          `at: ${part.at}, width: ${long(part.size)}, height: ${long(part.size)}, turn: ${part.turn} deg`,
          part.resistance === undefined ? "heat: ideal" : `thermal resistance: assumed ${part.resistance} K/W`,
          ...(part.wire === undefined ? [] : [`wire: ${part.wire}`]),
        ];
      case "stop":
        return [`at: ${part.at}, direction: ${part.direction} deg, gap: ${long(part.gap)}`];
      case "spring":
        return [`at: ${part.at}, x: assumed ${part.stiffness} N/m, y: assumed ${part.stiffness} N/m`];
      case "lump":
        return [
          `at: ${part.at}, mass: assumed ${perMass[units.mass] * part.mass} ${units.mass}`,
          `heat leak: assumed ${perLeak[units.leak] * part.leak} ${units.leak}`,
        ];
    }
  })();
  const word = part.kind === "beam" && part.rise !== undefined ? "curved beam" : part.kind;
  return `${part.name}: { is: ${word}, ${fields.join(", ")} }`;
}

/** The whole chip; `copies` is what stands under that word. */
export function chipText(draft: Draft, options: { readonly units?: Units; readonly copies?: string } = {}): string {
  const { units = usualUnits, copies } = options;
  const long = (value: number): string => `${perLength[units.length] * value} ${units.length}`;
  const force = (value: number): string => `${perForce[units.force] * value} ${units.force}`;
  const points = [...draft.points].map(([name, [x, y]]) => `      ${name}: { x: ${long(x)}, y: ${long(y)} }`);
  const forces = [...draft.forces].map(
    ([name, [x, y, turn]]) => `${name}: { x: ${force(x)}, y: ${force(y)}, turn: ${turn} nN m }`,
  );
  const [ax, ay] = draft.acceleration;
  return `chip: random
version: 1
surroundings: { gas: vacuum, temperature: ${units.isCelsius ? "20 degC" : "293.15 K"} }
materials:
  plain:
    conductivity: 100 W/(m K)
    resistivity: 1e-4 ohm m
    expansion: 3e-6/K
    young modulus: 160 GPa
    poisson ratio: 0.22
    density: 2330 kg/m^3
    specific heat: 700 J/(kg K)
process:
  flow: idealised
  silicon thickness: ${long(draft.thickness)}
  silicon: { material: plain }
devices:
  one:
    is: composition
    points:
${points.join("\n")}
    parts:
${draft.parts.map((part) => `      ${partText(part, units)}`).join("\n")}
${copies === undefined ? "" : `    copies: ${copies}\n`}    heat loss: ${draft.film === undefined ? "none" : `{ film: ${draft.film} W/(m^2 K) }`}
drive:
  cases:
    on:
      pads: ${perVoltage[units.voltage] * draft.pads} ${units.voltage}
      acceleration: { x: ${ax} m/s^2, y: ${ay} m/s^2 }
      forces: { ${forces.join(", ")} }
`;
}
