/**
 * The one vocabulary of metrics, for the text, the JSON, the pages and the report.
 * Own words; each says what it is, at which kind of case it stands, and whether a model computes it yet.
 */
import type { DimensionName } from "#base";

export interface Metric {
  readonly word: string;
  readonly dimension: DimensionName;
  readonly about: string;
  /** "case": stands at an operating case. "device": belongs to the device itself. */
  readonly stands: "case" | "device";
  /** What else must be given under "for". */
  readonly needs?: { readonly dimension: DimensionName; readonly about: string };
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
    stands: "case",
    about: "Way of the shuttle from its rest position, along the direction it is pushed, once everything is settled.",
  }),
  metric("rest position", "length", {
    stands: "device",
    about: "Place of the unheated shuttle against its drawn place: what the bond strain alone moves it by.",
  }),
  metric("supply current", "current", { stands: "case", about: "Steady current from the supply." }),
  metric("cold inrush current", "current", { stands: "case", about: "Current in the first moment, before anything is warm." }),
  metric("pad voltage", "voltage", { stands: "case", about: "Voltage between the pads." }),
  metric("pad power", "power", { stands: "case", about: "Power that goes into the pads." }),
  metric("supply power", "power", { stands: "case", about: "Power from the supply, its series resistor included." }),
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
  metric("cold resistance", "resistance", {
    stands: "device",
    about: "Resistance between the pads without heating, leads included.",
  }),
  metric("hot resistance", "resistance", { stands: "case", about: "Resistance between the pads at the case, leads included." }),
  metric("share of heat to gas", "number", { stands: "case", about: "Part of the heat that leaves through the gas." }),
  metric("peak beam stress", "pressure", {
    stands: "case",
    about: "Largest stress along the beams, from axial force and bending, without fillet concentration.",
  }),
  metric("chance of a broken root", "number", {
    stands: "case",
    about: "Chance that any beam root of the device breaks, from the strength distribution.",
  }),
  metric("axial force per leg", "force", { stands: "case", about: "Largest compressive force along a leg." }),
  metric("cold stiffness", "stiffness", { stands: "device", about: "Stiffness of the unheated shuttle along the travel." }),
  metric("hot stiffness", "stiffness", { stands: "case", about: "Stiffness of the shuttle along the travel at the case." }),
  metric("blocked force", "force", {
    stands: "case",
    about:
      "Force with which the shuttle pushes when held at its rest position. Does not exist where the straight legs would buckle.",
  }),
  metric("warm-up time to 63 %", "time", {
    stands: "case",
    about: "After switching on from cold, until the mean of the legs has made 1 - 1/e of its rise.",
  }),
  metric("warm-up time to 90 %", "time", {
    stands: "case",
    about: "After switching on from cold, until the mean of the legs has made 90 % of its rise.",
  }),
  metric("pad voltage for travel", "voltage", {
    stands: "device",
    about: "Pad voltage at which the steady travel reaches a given value.",
    needs: { dimension: "length", about: "the travel" },
  }),
  metric("energy per exposure", "energy", {
    stands: "case",
    about: "Energy from the supply over one drive sequence.",
    computed: false,
  }),
  metric("time to open", "time", { stands: "case", about: "Command to 90 % of the final travel.", computed: false }),
  metric("time to close", "time", { stands: "case", about: "Command to light below 10 %.", computed: false }),
  metric("first resonance", "frequency", { stands: "case", about: "Lowest mode in or out of the plane.", computed: false }),
  metric("sag under shock", "length", {
    stands: "case",
    about: "Motion out of the plane under a given acceleration.",
    computed: false,
  }),
  metric("side play", "length", {
    stands: "case",
    about: "Motion across the travel under the side loads of the drive.",
    computed: false,
  }),
  metric("rotation of the blade", "angle", {
    stands: "case",
    about: "Rotation in the plane under the side loads of the drive.",
    computed: false,
  }),
  metric("light when closed", "number", {
    stands: "case",
    about: "Part of the light that passes the closed slits.",
    computed: false,
  }),
  metric("light when open", "number", {
    stands: "case",
    about: "Part of the light that passes the open slits.",
    computed: false,
  }),
];

/** The word in a brief for what no model can prove. */
export const noModel = "no model";

const byWord = new Map(metrics.map((entry) => [entry.word, entry]));

export function findMetric(word: string): Metric | undefined {
  return byWord.get(word);
}

export const metricWords: readonly string[] = metrics.map((entry) => entry.word);
