/**
 * What the device in view does along its drive, and in time: lines for plots, beside the point where it stands. Plain data in display
 * units, so that the page only draws. Main test: curves.test.ts.
 */
import { dimensionNamed, displayScale } from "#base";
import {
  type Chip,
  dimensionOf,
  findMetric,
  type Handle,
  handleOf,
  type MetricRequest,
  numberFrom,
  pathKey,
  runSweep,
  traceCase,
} from "#chip";
import type { LiveQuestion } from "./question.ts";

export interface CurveAxis {
  readonly name: string;
  readonly unit: string;
  /** Size of the unit in SI. */
  readonly factor: number;
}

export interface Curve {
  readonly kind: "as drawn" | "as built";
  /** [n] each, in display units; NaN where there is no state. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** One plot: lines over an axis. */
export interface CurvePlot {
  readonly title: string;
  readonly x: CurveAxis;
  readonly y: CurveAxis;
  readonly curves: readonly Curve[];
  /** The number of the text that moves along x; undefined where x is time. */
  readonly handle: Handle | undefined;
  /** Units of x for one unit of the handle as written. */
  readonly perDigit: number;
  /** The word of the metric on y, by which the answer of now is found. */
  readonly metric: string | undefined;
}

/** Lines end above the present drive by this factor. */
const beyond = 1.25;
const nSteps = { built: 41, drawn: 21 } as const;
const drives = ["pads", "supply", "current"] as const;
const swept = ["steady travel", "supply current", "hottest silicon temperature"] as const;

/** The number that drives a case; undefined where nothing does, or several numbers do. */
export function driveOf(chip: Chip, caseName: string): Handle | undefined {
  const prefix = ["drive", "cases", caseName];
  for (const drive of drives) {
    const quantity = chip.addresses.at(pathKey([...prefix, drive]));
    if (quantity === undefined) continue;
    const handle = handleOf(chip, quantity);
    return "key" in handle ? handle : undefined;
  }
  return undefined;
}

function requestOf(word: string, question: LiveQuestion): MetricRequest {
  const metric = findMetric(word);
  if (metric === undefined) throw new RangeError(`Cannot draw "${word}": it is not a metric`);
  return { metric, device: question.device, caseName: question.caseName, argument: undefined, where: undefined };
}

const largestOf = (values: Float64Array): number =>
  values.reduce((most, value) => (Number.isFinite(value) ? Math.max(most, Math.abs(value)) : most), 0);

/** Travel, current and warmth along the drive of the case in view, and the history of the first case with steps. */
export function curvesOf(chip: Chip, question: LiveQuestion): readonly CurvePlot[] {
  return [...driveCurves(chip, question), ...historyCurves(chip, question)];
}

function driveCurves(chip: Chip, question: LiveQuestion): readonly CurvePlot[] {
  const handle = driveOf(chip, question.caseName);
  if (handle === undefined) return [];
  const metrics = swept.map((word) => requestOf(word, question));
  const top = Math.abs(numberFrom(handle.digits)) * beyond || 1;
  const sweeps = (["drawn", "built"] as const).map((side) =>
    runSweep(chip, {
      name: handle.name,
      from: `0 ${handle.unit}`,
      to: `${top} ${handle.unit}`,
      steps: nSteps[side],
      metrics,
      side,
    }),
  );
  const [first] = sweeps;
  const xScale = displayScale(largestOf(first!.values), first!.dimension);
  const x = { name: handle.name, unit: xScale.text, factor: xScale.factor };
  return metrics.map((request, column): CurvePlot => {
    const results = sweeps.map(({ values, results: all }) =>
      Float64Array.from(values, (_, step) => all[step * metrics.length + column]!),
    );
    const scale = displayScale(Math.max(...results.map(largestOf)), dimensionOf(request.metric));
    return {
      title: request.metric.word,
      x,
      y: { name: request.metric.word, unit: scale.text, factor: scale.factor },
      curves: sweeps.map(({ values }, i) => ({
        kind: i === 0 ? "as drawn" : "as built",
        x: values.map((value) => value / xScale.factor),
        y: results[i]!.map((value) => value / scale.factor),
      })),
      handle,
      perDigit: first!.values.at(-1)! / xScale.factor / top,
      metric: request.metric.word,
    };
  });
}

function historyCurves(chip: Chip, question: LiveQuestion): readonly CurvePlot[] {
  const caseName = chip.names.cases.find((name) => !chip.names.steadyCases.includes(name));
  if (caseName === undefined) return [];
  const traces = (["drawn", "built"] as const).map((side) => traceCase(chip, { device: question.device, caseName, side }));
  const times = traces[0]!.times;
  const x = displayScale(largestOf(times), dimensionNamed("time"));
  const columns = traces.map(({ columns: all }) => all.find(({ name }) => name === "travel")!);
  const scale = displayScale(Math.max(...columns.map(({ values }) => largestOf(values))), columns[0]!.dimension);
  return [
    {
      title: `travel through ${caseName}`,
      x: { name: "time", unit: x.text, factor: x.factor },
      y: { name: "travel", unit: scale.text, factor: scale.factor },
      curves: traces.map((trace, i) => ({
        kind: i === 0 ? "as drawn" : "as built",
        x: trace.times.map((value) => value / x.factor),
        y: columns[i]!.values.map((value) => value / scale.factor),
      })),
      handle: undefined,
      perDigit: 1,
      metric: undefined,
    },
  ];
}
