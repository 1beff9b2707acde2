/**
 * A prediction as data: every metric with SI value, unit, doubt, evidence and model, and the fields along each beam.
 * The form is versioned; docs/how-to/prediction-json.md says what each field means.
 */
import { siUnitText } from "#base";
import type { BeamResult } from "#devices";
import type { Ledger, LedgerLimit, Prediction } from "../ledger/ledger.ts";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import type { MetricRequest } from "./side-model.ts";

export const predictionForm = "waferwright prediction";
export const predictionVersion = 1;

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);

function beamJson(beam: BeamResult): Record<string, unknown> {
  return {
    beam: beam.name,
    line_m: [...beam.line],
    widths_m: [...beam.widths],
    current_A: beam.current,
    axialForce_N: finite(beam.axialForce),
    peakStress_Pa: finite(beam.peakStress),
    positions_m: [...beam.positions],
    temperatures_K: [...beam.temperatures],
  };
}

function predictionJson(prediction: Prediction | undefined): unknown {
  if (prediction === undefined) return null;
  const { estimate, margin, sampled } = prediction;
  return {
    value: finite(estimate.value),
    standardDeviation: estimate.sigma,
    margin: finite(margin),
    ...(estimate.reason !== undefined && { reason: estimate.reason }),
    ...(sampled !== undefined && { sampled }),
    doubtFrom: estimate.shares.slice(0, 5),
  };
}

function limitJson({ limit, dimension, need, status, drawn, built, measured }: LedgerLimit): unknown {
  return {
    metric: limit.metric?.word ?? null,
    case: limit.caseName ?? null,
    device: limit.device,
    need: limit.text,
    unit: siUnitText(dimension),
    low: need?.low ?? null,
    high: need?.high ?? null,
    ofSize: need?.ofSize ?? false,
    status,
    asDrawn: predictionJson(drawn),
    asBuilt: predictionJson(built),
    measured: measured ?? null,
  };
}

/** The whole ledger and what it stands on, as plain data. `requests` are the metrics that were asked for, in order. */
export function predictionToJson(ledger: Ledger, requests: readonly MetricRequest[]): Record<string, unknown> {
  const { chip } = ledger;
  const metric = (side: "drawn" | "built") => (request: MetricRequest, index: number) => {
    const estimate = ledger.sides[side].estimates[index]!;
    return {
      metric: request.metric.word,
      device: request.device,
      case: request.caseName ?? null,
      ...(request.argument !== undefined && { for: request.argument }),
      value: finite(estimate.value),
      unit: siUnitText(dimensionOf(request.metric)),
      standardDeviation: estimate.sigma,
      evidence: "predicted",
      model: "frame",
      ...(estimate.reason !== undefined && { reason: estimate.reason }),
    };
  };
  const fields = (side: "drawn" | "built") =>
    chip.names.devices.flatMap((device) =>
      chip.names.steadyCases.map((caseName) => ({
        device,
        case: caseName,
        beams: ledger.sides[side].model.pointAt(device, caseName).beams.map(beamJson),
      })),
    );
  return {
    form: predictionForm,
    version: predictionVersion,
    chip: chip.description.sections.chip,
    note: chip.description.sections.note ?? null,
    sides: {
      asDrawn: { metrics: requests.map(metric("drawn")), fields: fields("drawn") },
      asBuilt: { metrics: requests.map(metric("built")), fields: fields("built") },
    },
    requirements: ledger.rows.map((row) => ({
      name: row.requirement.name,
      status: row.status,
      chanceAsDrawn: row.drawn?.shown ?? null,
      chanceAsBuilt: row.built?.shown ?? null,
      word: row.built?.word ?? null,
      limits: row.limits.map(limitJson),
    })),
    findings: ledger.findings,
    assumed: ledger.assumed.map(({ cause, share }) => ({ cause: cause.name, share })),
    samples: ledger.nSamples,
  };
}
