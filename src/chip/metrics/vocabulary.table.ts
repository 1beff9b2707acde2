/**
 * The one vocabulary of metrics, for the text, the JSON, the pages and the report.
 * Own words; each says what it is, at which kind of case it stands, and whether a model computes it yet.
 */
import type { DimensionName } from "#base";

export type PartKind = "anchor" | "beam" | "plate" | "stop";

export interface Metric {
  readonly word: string;
  readonly dimension: DimensionName;
  readonly about: string;
  /** "case": stands at an operating case. "device": belongs to the device itself. */
  readonly stands: "case" | "device";
  /** What must be named under "where". */
  readonly where?: "point" | "part";
  /** Kinds of parts that have it, where it is of a part. */
  readonly kinds?: readonly PartKind[];
  /** What a device must have for it. */
  readonly has?: "output" | "light";
  /** What else must be given under "for". */
  readonly needs?: { readonly dimension: DimensionName; readonly about: string };
  /**
   * What a sign below zero says. "sense": against a sense that was chosen, of a branch or of a drive, so that every limit is about the
   * size. "direction": the other way, so that "at most" is about the size, and "at least" about this direction. Left out: as any number.
   */
  readonly sign?: "sense" | "direction";
  /** True where a run in time stands behind it: samples follow its first-order estimate. */
  readonly timed?: true;
  /** False while no model of this program computes it: its row then reads "not yet computed". */
  readonly computed: boolean;
}

const metric = (
  word: string,
  dimension: DimensionName,
  rest: Omit<Metric, "word" | "dimension" | "computed"> & { computed?: false },
): Metric => ({
  word,
  dimension,
  computed: true,
  ...rest,
});

export const metrics: readonly Metric[] = [
  metric("steady travel", "length", {
    has: "output",
    sign: "direction",
    stands: "case",
    about: "Way of the shuttle from its rest position, along the direction it is pushed, once everything is settled.",
  }),
  metric("rest position", "length", {
    has: "output",
    sign: "direction",
    stands: "device",
    about: "Place of the unheated shuttle against its drawn place: what the bond strain alone moves it by.",
  }),
  metric("supply current", "current", {
    sign: "sense",
    stands: "case",
    about: "Steady current into the net plus: below zero where the drive is, or where other nets feed more.",
  }),
  metric("cold inrush current", "current", {
    sign: "sense",
    stands: "case",
    about: "Current in the first moment, before anything is warm; signed as the supply current.",
  }),
  metric("pad voltage", "voltage", {
    sign: "sense",
    stands: "case",
    about: "Voltage of the net plus against minus, below zero where the drive is.",
  }),
  metric("pad power", "power", { stands: "case", about: "Power that goes into the device through all of its nets." }),
  metric("supply power", "power", { stands: "case", about: "Power from all supplies, the series resistor included." }),
  metric("hottest silicon temperature", "temperature", { stands: "case", about: "Highest temperature anywhere in the silicon." }),
  metric("mean leg temperature", "temperature", { stands: "case", about: "Mean over the length of all legs." }),
  metric("shuttle temperature", "temperature", {
    stands: "case",
    about: "Mean over the shuttle; the point where the legs meet where there is none.",
  }),
  metric("anchor temperature", "temperature", {
    stands: "case",
    about: "Hottest anchor, where the legs leave it: also the glass under it.",
  }),
  metric("mean leg strain", "number", { stands: "case", about: "Mean free thermal strain of the legs." }),
  metric("mean silicon temperature", "temperature", {
    stands: "case",
    about: "Mean over all silicon that moves, by volume; anchors are left out.",
  }),
  metric("cold resistance", "resistance", {
    stands: "device",
    about: "Resistance between the pads without heating, leads included.",
  }),
  metric("hot resistance", "resistance", { stands: "case", about: "Resistance between the pads at the case, leads included." }),
  metric("share of heat to gas", "number", {
    stands: "case",
    about: "Part of the heat that leaves through the gas; where the heat loss is given, by that loss.",
  }),
  metric("share of heat radiated", "number", { stands: "case", about: "Part of the heat that the silicon radiates." }),
  metric("share of heat to the substrate", "number", {
    stands: "case",
    about: "Part of the heat that leaves through the anchors into what is below.",
  }),
  metric("peak beam stress", "pressure", {
    stands: "case",
    about: "Largest stress along the beams, from axial force and bending, without fillet concentration.",
  }),
  metric("chance of a broken root", "number", {
    stands: "case",
    about: "Chance that any beam root of the device breaks, from the strength distribution.",
  }),
  metric("axial force per leg", "force", { stands: "case", about: "Largest compressive force along a leg." }),
  metric("cold stiffness", "stiffness", {
    has: "output",
    stands: "device",
    about: "Stiffness of the unheated shuttle along the travel.",
  }),
  metric("hot stiffness", "stiffness", {
    has: "output",
    stands: "case",
    about: "Stiffness of the shuttle along the travel at the case.",
  }),
  metric("blocked force", "force", {
    has: "output",
    stands: "case",
    about:
      "Force with which the shuttle pushes when held at its rest position. Does not exist where the straight legs would buckle.",
  }),
  metric("force at travel", "force", {
    has: "output",
    stands: "case",
    about: "Force with which it pushes when held at a travel: the blocked force at none, nothing at the steady travel.",
    needs: { dimension: "length", about: "the travel" },
  }),
  metric("thermal time constant", "time", {
    stands: "case",
    about: "Time in which a small disturbance of the temperatures dies out to 1/e, the slowest first.",
    needs: { dimension: "number", about: "which one, 1 for the slowest" },
  }),
  metric("thermal bandwidth", "frequency", {
    stands: "case",
    about: "Frequency at which the mean leg temperature follows small changes of the drive with 71 % of its steady answer.",
  }),
  metric("warm-up time to 63 %", "time", {
    stands: "case",
    timed: true,
    about: "After switching on from cold, until the mean of the legs has made 1 - 1/e of its rise.",
  }),
  metric("warm-up time to 90 %", "time", {
    stands: "case",
    timed: true,
    about: "After switching on from cold, until the mean of the legs has made 90 % of its rise.",
  }),
  metric("warm-up time at a point", "time", {
    stands: "case",
    timed: true,
    where: "point",
    about: "After switching on from cold, until a point where something is joined has made a share of its rise.",
    needs: { dimension: "number", about: "the share, for example 0.9" },
  }),
  metric("warm-up time of a part", "time", {
    kinds: ["anchor", "beam", "plate"],
    stands: "case",
    timed: true,
    where: "part",
    about: "After switching on from cold, until the mean over a part has made a share of its rise.",
    needs: { dimension: "number", about: "the share, for example 0.9" },
  }),
  metric("warm-up time of the silicon", "time", {
    stands: "case",
    timed: true,
    about: "After switching on from cold, until the mean over all silicon that moves has made a share of its rise.",
    needs: { dimension: "number", about: "the share, for example 0.9" },
  }),
  metric("pad voltage for travel", "voltage", {
    has: "output",
    stands: "device",
    about: "Pad voltage at which the steady travel reaches a given value.",
    needs: { dimension: "length", about: "the travel" },
  }),
  metric("energy per exposure", "energy", {
    stands: "case",
    timed: true,
    about: "Energy from the supply over one run through a case with steps.",
  }),
  metric("peak supply current", "current", {
    sign: "sense",
    stands: "case",
    timed: true,
    about: "Largest current from the supply in a case with steps.",
  }),
  metric("time to open", "time", {
    has: "output",
    stands: "case",
    timed: true,
    about:
      "After switching on from cold until the travel has made 90 % of its steady value; in a case with steps, of its value at the end of the last driven step.",
  }),
  metric("time to close", "time", {
    has: "output",
    stands: "case",
    timed: true,
    about:
      "After switching off until less than 10 % of the open light passes; without a blade, until 90 % of the travel is undone.",
  }),
  metric("critical load factor", "number", {
    stands: "case",
    about:
      "Factor on all loads and strains of the case at which the device first buckles or snaps. Does not exist where a hundred times the case leaves it stable.",
  }),
  metric("load factor", "number", {
    stands: "case",
    about: "Part of the loads and strains that balances the state shown: 1, but for a case that follows to a turning point.",
  }),
  metric("states of balance", "number", {
    stands: "case",
    about:
      "How many states balance the loads, stable and unstable, on the way from rest to ten times the case and where it forks.",
  }),
  metric("buckling factor out of plane", "number", {
    stands: "case",
    about:
      "Factor on the forces in the beams at which the device buckles out of its plane; its shape in the plane is kept, so far from 1 it is a guide only.",
  }),
  metric("first resonance", "frequency", {
    stands: "case",
    about:
      "Lowest mode in or out of the plane. A closed stop is left out: the device rings in its present shape as if the stop were away.",
  }),
  metric("resonance", "frequency", {
    stands: "case",
    about:
      "A mode in or out of the plane, counted from the lowest. A closed stop is left out: the device rings in its present shape as if the stop were away.",
    needs: { dimension: "number", about: "which mode, 1 for the lowest" },
  }),
  metric("quality factor", "number", {
    stands: "case",
    about: "Of a mode in or out of the plane, counted from the lowest, by the gas alone.",
    needs: { dimension: "number", about: "which mode, 1 for the lowest" },
  }),
  metric("acceleration noise", "acceleration", {
    stands: "case",
    about: "Acceleration of the die that the thermal noise of the lowest mode cannot be told from, root mean square in a band.",
    needs: { dimension: "frequency", about: "the width of the band" },
  }),
  metric("thermal motion along x", "length", {
    stands: "case",
    where: "point",
    about: "Of a point by heat alone, root mean square.",
  }),
  metric("thermal motion along y", "length", {
    stands: "case",
    where: "point",
    about: "Of a point by heat alone, root mean square.",
  }),
  metric("thermal motion along z", "length", {
    stands: "case",
    where: "point",
    about: "Of a point by heat alone, root mean square.",
  }),
  metric("gas damping along x", "damping coefficient", {
    kinds: ["plate"],
    stands: "case",
    where: "part",
    about: "Force of the gas per velocity of a plate that slides over the glass.",
    needs: { dimension: "frequency", about: "the frequency of the motion" },
  }),
  metric("gas damping along y", "damping coefficient", {
    kinds: ["plate"],
    stands: "case",
    where: "part",
    about: "Force of the gas per velocity of a plate that slides over the glass.",
    needs: { dimension: "frequency", about: "the frequency of the motion" },
  }),
  metric("gas damping along z", "damping coefficient", {
    kinds: ["plate"],
    stands: "case",
    where: "part",
    about: "Force of the gas per velocity of a plate that comes down on the glass.",
    needs: { dimension: "frequency", about: "the frequency of the motion" },
  }),
  metric("gas stiffness along z", "stiffness", {
    kinds: ["plate"],
    stands: "case",
    where: "part",
    about: "Force per motion of the gas that a plate shuts in above the glass when it moves fast.",
    needs: { dimension: "frequency", about: "the frequency of the motion" },
  }),
  metric("resonance in the plane", "frequency", {
    stands: "case",
    about:
      "A mode that stays in the plane, counted from the lowest of these. A closed stop is left out: the device rings in its present shape as if the stop were away.",
    needs: { dimension: "number", about: "which of them, 1 for the lowest" },
  }),
  metric("resonance out of the plane", "frequency", {
    stands: "case",
    about:
      "A mode out of the plane, counted from the lowest of these. A closed stop is left out: the device rings in its present shape as if the stop were away.",
    needs: { dimension: "number", about: "which of them, 1 for the lowest" },
  }),
  metric("sag under shock", "length", {
    kinds: ["plate"],
    stands: "case",
    where: "part",
    about: "Largest motion of a plate's corners out of the plane when the die accelerates out of it.",
    needs: { dimension: "acceleration", about: "the acceleration" },
  }),
  metric("side play", "length", {
    kinds: ["plate"],
    stands: "case",
    where: "part",
    about: "Largest motion of a plate's corners along x when the die accelerates along x.",
    needs: { dimension: "acceleration", about: "the acceleration" },
  }),
  metric("rotation under shock", "angle", {
    kinds: ["plate"],
    stands: "case",
    where: "part",
    about: "Turn of a plate in the plane when the die accelerates along x or along y, the larger of the two.",
    needs: { dimension: "acceleration", about: "the acceleration" },
  }),
  metric("light when closed", "number", {
    has: "light",
    stands: "case",
    about: "Light that passes the slits at rest, over what passes when the blade stands half a pitch further.",
  }),
  metric("light when open", "number", {
    has: "light",
    stands: "case",
    about: "Part of the light on the aperture that passes at the case, ribs counted.",
  }),
  metric("peak root stress", "pressure", {
    stands: "case",
    about: "Peak beam stress times the notch factor of the silicon.",
  }),
  metric("motion along x", "length", {
    sign: "direction",
    stands: "case",
    where: "point",
    about: "Of a point from where it rests.",
  }),
  metric("motion along y", "length", {
    sign: "direction",
    stands: "case",
    where: "point",
    about: "Of a point from where it rests.",
  }),
  metric("turn", "angle", {
    sign: "direction",
    stands: "case",
    where: "point",
    about: "Of a point in the plane, counter-clockwise.",
  }),
  metric("holding force along x", "force", {
    sign: "direction",
    stands: "case",
    where: "point",
    about: "Force on a point of what holds it: a held point, a support, an anchor.",
  }),
  metric("holding force along y", "force", {
    sign: "direction",
    stands: "case",
    where: "point",
    about: "Force on a point of what holds it: a held point, a support, an anchor.",
  }),
  metric("holding moment", "energy", {
    sign: "direction",
    stands: "case",
    where: "point",
    about: "Moment on a point of what holds it, counter-clockwise.",
  }),
  metric("temperature", "temperature", { stands: "case", where: "point", about: "Of a point where something is joined." }),
  metric("stiffness along x", "stiffness", { stands: "case", where: "point", about: "Of a point to a small push along x." }),
  metric("stiffness along y", "stiffness", { stands: "case", where: "point", about: "Of a point to a small push along y." }),
  metric("stiffness along z", "stiffness", {
    stands: "case",
    where: "point",
    about: "Of a point to a small push out of the plane.",
  }),
  metric("mean temperature", "temperature", {
    kinds: ["anchor", "beam", "plate"],
    stands: "case",
    where: "part",
    about: "Mean over the length of a part.",
  }),
  metric("highest temperature", "temperature", {
    kinds: ["anchor", "beam", "plate"],
    stands: "case",
    where: "part",
    about: "Hottest place of a part.",
  }),
  metric("current through", "current", {
    kinds: ["beam"],
    sign: "sense",
    stands: "case",
    where: "part",
    about: "Current along a beam, positive from its start to its end.",
  }),
  metric("axial force", "force", {
    kinds: ["beam"],
    sign: "direction",
    stands: "case",
    where: "part",
    about: "Mean along a beam, positive in tension.",
  }),
  metric("contact force", "force", {
    kinds: ["stop"],
    stands: "case",
    where: "part",
    about: "Force on a stop that is reached; nothing while it is not.",
  }),
  metric("stress", "pressure", {
    kinds: ["beam"],
    stands: "case",
    where: "part",
    about: "Largest along a beam, without fillet concentration.",
  }),
];

/** What the sign of a metric means for limits on it; undefined where it is as any number. */
export function signWords({ sign }: Metric): string | undefined {
  if (sign === undefined) return undefined;
  return sign === "sense" ? "signed; limits are about its size" : 'signed; "at most" is about its size';
}

/** The word in a brief for what no model can prove. */
export const noModel = "no model";

const byWord = new Map(metrics.map((entry) => [entry.word, entry]));

export function findMetric(word: string): Metric | undefined {
  return byWord.get(word);
}

export const metricWords: readonly string[] = metrics.map((entry) => entry.word);
