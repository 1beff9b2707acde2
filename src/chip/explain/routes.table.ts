/**
 * How one number of a steady case comes from another, as an engineer tells it: from what drives the device to what is asked for.
 * Each hop names a metric of the vocabulary, and in words what makes it from the one before.
 */

export interface Hop {
  readonly word: string;
  readonly by: string;
}

const voltage: Hop = { word: "pad voltage", by: "given by the case, less what a series resistor takes" };
const resistance: Hop = { word: "hot resistance", by: "the silicon at its own temperatures" };
const current: Hop = { word: "supply current", by: "voltage over hot resistance" };
const power: Hop = { word: "pad power", by: "voltage times current" };
const warmth: Hop = { word: "mean leg temperature", by: "power against what gas, glass and radiation take away" };
const hottest: Hop = { word: "hottest silicon temperature", by: "the middle of what is warm" };
const anchor: Hop = { word: "anchor temperature", by: "heat that goes down through the anchors" };
const strain: Hop = { word: "mean leg strain", by: "expansion from the surroundings to that temperature" };
const travel: Hop = { word: "steady travel", by: "the tilt of the legs turns strain into way, less what they bend" };
const force: Hop = { word: "axial force per leg", by: "what of the strain is held back" };

const electric = [voltage, resistance, current] as const;
const warm = [...electric, power, warmth] as const;
const strained = [...warm, strain] as const;

const ending = (way: readonly Hop[], word: string, by: string): readonly Hop[] => [...way, { word, by }];

/** Ways by the metric at their end; a metric that is not here stands for itself. */
export const routes: ReadonlyMap<string, readonly Hop[]> = new Map(
  [
    [voltage, resistance],
    electric,
    [...electric, power],
    ending([...electric, power], "supply power", "with what the series resistor takes"),
    warm,
    ending([...electric, power], "mean silicon temperature", warmth.by),
    ending(warm, "shuttle temperature", "heat that the legs bring"),
    [...warm, hottest],
    [...warm, anchor],
    strained,
    [...strained, travel],
    [...strained, force],
    ending(strained, "blocked force", "the strain held back in all legs, along the travel"),
    ending([...strained, travel, force], "peak beam stress", "axial force and bending together"),
    ending([...strained, travel, force], "peak root stress", "axial force and bending, at the fillets"),
    ending([...strained, travel, force], "chance of a broken root", "root stress against the strength of etched walls"),
    ending([...strained, travel], "light when open", "where the slits stand over each other"),
  ].map((way) => [way.at(-1)!.word, way] as const),
);
