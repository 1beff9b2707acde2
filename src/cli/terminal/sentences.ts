/** What the terminal says in words: the device in a few sentences first, and at most five labelled lines at the end. */
import { formatQuantity } from "#base";
import { type Cause, dimensionOf, type Ledger, type LedgerRow, limitWords, type MetricRequest, metrics } from "#chip";
import { padEnd, type Style, shown, wrap } from "./style.ts";

/** The metrics that the opening sentences need for one device and case. */
export const sentenceMetrics = [
  "supply current",
  "pad voltage",
  "pad power",
  "hottest silicon temperature",
  "steady travel",
  "share of heat to gas",
  "share of heat radiated",
  "peak beam stress",
] as const;

export function sentenceRequests(device: string, caseName: string): MetricRequest[] {
  return sentenceMetrics.map((word) => ({
    metric: metrics.find((metric) => metric.word === word)!,
    where: undefined,
    device,
    caseName,
    argument: undefined,
  }));
}

/** Where the heat goes besides the anchors; no part that does not show in four figures. */
function sidePaths(
  point: { gasShare: number; radiatedShare: number },
  value: (word: (typeof sentenceMetrics)[number]) => string,
): string {
  const least = 5e-5;
  const parts = [
    ...(point.gasShare > least ? [`${value("share of heat to gas")} leaves through the gas`] : []),
    ...(point.radiatedShare > least ? [`${value("share of heat radiated")} is radiated`] : []),
  ];
  return parts.length === 0 ? "" : `, of which ${parts.join(" and ")}`;
}

/** The opening paragraph. The first requests of the ledger are those of `sentenceRequests`. */
export function openingLines(ledger: Ledger, at: { device: string; caseName: string }, style: Style): string[] {
  const { sections } = ledger.chip.description;
  const side = ledger.sides.built;
  const value = (word: (typeof sentenceMetrics)[number]): string => {
    const index = sentenceMetrics.indexOf(word);
    const estimate = side.estimates[index]!;
    const metric = metrics.find((entry) => entry.word === word)!;
    return style.bold(formatQuantity(estimate.value, dimensionOf(metric), { sigma: estimate.sigma }));
  };
  const point = side.model.pointAt(at.device, at.caseName);
  const title = `${style.bold(sections.chip)}, ${at.device}, case ${at.caseName}.`;
  const missing = point.absent.get("all");
  const moves = !Number.isFinite(point.peakStress)
    ? "it finds no place to stand still."
    : `${Number.isFinite(point.travel) ? `it moves ${value("steady travel")} from rest, with` : "it bears"} at most ${value("peak beam stress")} along the beams.`;
  const lines =
    missing !== undefined
      ? [`${title} ${missing.charAt(0).toUpperCase()}${missing.slice(1)}.`]
      : point.current === 0
        ? [`${title} Without a current ${moves}`]
        : [
            `${title} At ${value("pad voltage")} on the pads it draws ${value("supply current")} and turns ${value("pad power")} into heat${sidePaths(point, value)}.`,
            `Its hottest place (${point.hottestPlace}) comes to ${value("hottest silicon temperature")};`,
            moves,
          ];
  const note = sections.note === undefined ? [] : wrap(sections.note, 100).map((line) => style.dim(line));
  return [...note, lines.join(" ")].flatMap((line) => wrap(shown(line, style), 108)).map((line) => `  ${line}`);
}

function labelled(label: string, sentences: readonly string[], style: Style): string[] {
  return sentences
    .flatMap((sentence) => wrap(shown(sentence, style), 96))
    .map((line, i) => `  ${padEnd(i === 0 ? label : "", 10)}${line}`);
}

function causeText(cause: Cause, ledger: Ledger): string {
  const quantity = ledger.chip.addresses.at(cause.name);
  return quantity === undefined
    ? `${cause.name}, assumed from published spread,`
    : `${ledger.chip.addresses.shortest(cause.name)}, ${(ledger.chip.readings.substitutes.get(cause.name)?.text ?? quantity.text)
        .split(",")[0]!
        .replace(/^(?:measured|assumed|drawn|predicted) /, "")
        .trim()} (${cause.evidence}),`;
}

/** The cause that carries most of the doubt in the tightest limit of a row. */
export function doubtOf(row: LedgerRow, ledger: Ledger): string | undefined {
  const limit = row.limits[row.tightest];
  const top = limit?.built?.estimate.shares[0];
  if (top === undefined) return undefined;
  const cause = ledger.sides.built.causes.get(top.cause);
  if (cause === undefined) return undefined;
  return `${causeText(cause, ledger)} carries ${Math.round(100 * top.share)} % of the doubt in ${row.requirement.name}.`;
}

/** The last lines: what fails, what is open, where the doubt comes from, what the models say, what was written. */
export function closingLines(ledger: Ledger, style: Style): string[] {
  const computed = ledger.rows.filter((row) => row.built !== undefined);
  const failing = computed.filter((row) => row.built!.word === "fails");
  const doubtful = computed.filter((row) => row.built!.word === "doubtful");
  const open = computed.filter((row) => row.built!.word === "open");
  const later = ledger.rows.filter((row) => row.status === "not yet computed").map((row) => row.requirement.name);
  const untold = ledger.rows.filter((row) => row.status === "no model");
  const sentences: string[] = [];
  sentences.push(
    ...labelled(
      style.fail("Fails"),
      failing.slice(0, 3).map((row) => failSentence(row)),
      style,
    ),
  );
  sentences.push(...labelled("Doubtful", doubtful.slice(0, 3).map(failSentence), style));
  sentences.push(...labelled(style.measured("Measured"), ledger.rows.flatMap(measuredSentences), style));
  sentences.push(
    ...labelled(
      "Open",
      [
        ...open.map((row) => failSentence(row)),
        ...(later.length > 0 ? [`Not yet computed: ${later.join(", ")}.`] : []),
        ...untold.map(
          (row) =>
            `No model can prove ${row.requirement.name}${row.requirement.proof === undefined ? "" : `: ${row.requirement.proof}`}.`,
        ),
      ],
      style,
    ),
  );
  const doubted = [...computed].sort((a, b) => a.built!.shown - b.built!.shown)[0];
  const doubt = doubted === undefined ? undefined : doubtOf(doubted, ledger);
  if (doubt !== undefined) sentences.push(...labelled("Doubt", [doubt], style));
  const disagreeing = computed.filter((row) => row.built!.disagree || row.drawn?.disagree === true);
  if (disagreeing.length > 0) {
    sentences.push(
      ...labelled(
        "Chance",
        disagreeing.map(
          (row) =>
            `${row.requirement.name}: the linear estimate says ${Math.round(100 * row.built!.firstOrder)} in 100, ${ledger.nSamples} samples of the full model ${Math.round(100 * row.built!.shown)}; the samples count.`,
        ),
        style,
      ),
    );
  }
  const accuracy = accuracySentence(ledger);
  sentences.push(
    ...labelled("Models", [`Frame model alone; plane and solid models do not exist yet. ${accuracy}`.trim()], style),
  );
  return sentences;
}

function failSentence(row: LedgerRow): string {
  const limit = row.limits[row.tightest]!;
  const { estimate } = limit.built!;
  const reason = estimate.reason === undefined ? "" : `: ${estimate.reason}`;
  const value = Number.isFinite(estimate.value)
    ? formatQuantity(estimate.value, limit.dimension, {
        sigma: estimate.sigma,
        like: limit.need?.high ?? limit.need?.low ?? estimate.value,
      })
    : "does not exist";
  const verb = Number.isFinite(estimate.value) ? "is " : "";
  return `${row.requirement.name} ${verb}${value}; it needs ${limitWords(limit)}${reason}.`;
}

/** What was measured and misses its limit: it decides the exit code, so it is said in words. */
function measuredSentences(row: LedgerRow): string[] {
  return row.limits.flatMap((limit) => {
    const { measured, need, dimension } = limit;
    if (measured === undefined || need === undefined || measured.margin >= 0) return [];
    const value = formatQuantity(measured.value, dimension, {
      sigma: measured.sigma,
      like: need.high ?? need.low ?? measured.value,
    });
    const from = [measured.source, measured.date].filter((part) => part !== undefined).join(", ");
    return [`${row.requirement.name} was ${value}${from === "" ? "" : ` (${from})`}; it needs ${limitWords(limit)}.`];
  });
}

/** How well the numbers behind the ledger are worked out: the worst over all devices and cases. */
function accuracySentence(ledger: Ledger): string {
  let [heat, motion] = [-1, -1];
  for (const device of ledger.chip.names.devices) {
    for (const caseName of ledger.chip.names.steadyCases) {
      const { energy, discretisationError } = ledger.sides.built.model.pointAt(device, caseName);
      if (energy !== undefined) heat = Math.max(heat, Math.abs(energy.relativeDefect));
      if (Number.isFinite(discretisationError)) motion = Math.max(motion, discretisationError);
    }
  }
  const size = (value: number): string => (value < 1e-12 ? "1e-12" : value.toExponential(0));
  return [
    ...(heat < 0 ? [] : [`The heat balance closes to ${size(heat)} of the power.`]),
    ...(motion < 0 ? [] : [`Cutting the beams into elements leaves ${size(motion)} of the motion.`]),
  ].join(" ");
}
