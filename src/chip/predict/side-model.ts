/**
 * One side of a chip (as drawn, or as built) with every cause of doubt at a given place: its devices and their operating points,
 * each worked out once.
 */
import type { Finding, Place, QuantityText, TextProblem } from "#base";
import {
  AssemblyError,
  createDeviceModel,
  type DeviceModel,
  type DriveCase,
  families,
  type OperatingPoint,
  type ShapeFactorStore,
  type VoltageForTravel,
} from "#devices";
import type { Description, Sections } from "../description.ts";
import { conditionsOf, siliconOf } from "../evaluate/chip-conditions.ts";
import { EvaluationError, type Scope } from "../evaluate/scope.ts";
import { evaluateRecord } from "../evaluate/values.ts";
import { type MetricValue, readPointMetric } from "../metrics/read-metric.ts";
import type { Metric } from "../metrics/vocabulary.table.ts";
import { placeOfPath } from "../text/find-node.ts";

type CaseText = Sections["drive"]["cases"] extends ReadonlyMap<string, infer C> ? C : never;

/** A metric asked for: where it stands and what else it needs. */
export interface MetricRequest {
  readonly metric: Metric;
  readonly device: string;
  readonly caseName: string | undefined;
  /** SI value under "for". */
  readonly argument: number | undefined;
}

export class SideModel {
  private readonly silicon: ReturnType<typeof siliconOf>;
  private readonly models = new Map<string, DeviceModel>();
  private readonly points = new Map<string, OperatingPoint>();
  private readonly voltages = new Map<string, VoltageForTravel>();

  constructor(
    private readonly description: Description,
    readonly scope: Scope,
    private readonly shapeFactors: ShapeFactorStore,
    /** A side already worked out nearby, whose states are good to start from. */
    private readonly near: SideModel | undefined,
  ) {
    this.silicon = siliconOf(description, scope);
  }

  /** The steady state of a device in a case. */
  pointAt(device: string, caseName: string): OperatingPoint {
    const key = `${device}|${caseName}`;
    let point = this.points.get(key);
    if (point === undefined) {
      const text = this.caseText(caseName);
      const start = this.near?.points.get(key);
      point = this.modelFor(device, text).operate(this.driveOf(text, caseName), {
        apexLoad: text["apex load"] === undefined ? 0 : this.scope.valueOf(text["apex load"]),
        ...(start !== undefined && { start }),
      });
      this.points.set(key, point);
    }
    return point;
  }

  /** The model of a device in the chip's own surroundings. */
  deviceModel(device: string): DeviceModel {
    return this.modelFor(device, {});
  }

  /** Value of a metric; NaN with a reason where it does not exist. */
  valueOf(request: MetricRequest): MetricValue {
    const { metric, device, caseName, argument } = request;
    if (metric.stands === "case") return readPointMetric(metric.word, this.pointAt(device, caseName!));
    const model = this.modelFor(device, {});
    switch (metric.word) {
      case "rest position":
        return { value: model.restPosition() };
      case "cold resistance":
        return { value: model.coldResistance() };
      case "cold stiffness":
        return { value: model.coldStiffness() };
      case "pad voltage for travel":
        return this.voltageForTravel(device, argument!);
      default:
        throw new RangeError(`Cannot work out the metric "${metric.word}"`);
    }
  }

  /** Evaluates every device without solving anything, so that a check finds what does not fit together. */
  checkDevices(): readonly TextProblem[] {
    return [...this.description.sections.devices.keys()].flatMap((device) => {
      try {
        this.modelFor(device, {});
        return [];
      } catch (error) {
        if (error instanceof EvaluationError) return [{ place: error.place, message: error.message }];
        throw error;
      }
    });
  }

  /** Checks that a case says one drive that this chip understands. */
  checkCase(caseName: string): void {
    this.driveOf(this.caseText(caseName), caseName);
  }

  findings(): readonly Finding[] {
    const seen = new Set<string>();
    return [...this.points].flatMap(([key, point]) => {
      const [device, caseName] = key.split("|");
      return point.findings
        .filter((finding) => !seen.has(finding.message) && seen.add(finding.message))
        .map((finding) => ({ ...finding, where: `${device}, case ${caseName}: ${finding.where}` }));
    });
  }

  /** The assembly of a device: its parts at target size. */
  assemblyOf(device: string): ReturnType<(typeof families)[number]["assemble"]> {
    const text = this.description.sections.devices.get(device);
    const family = families.find((candidate) => candidate.name === text?.word);
    if (text === undefined || family === undefined) throw new RangeError(`Cannot find the device "${device}"`);
    const values = evaluateRecord(family.fields, text.fields, this.scope);
    try {
      return family.assemble(values);
    } catch (error) {
      if (!(error instanceof AssemblyError)) throw error;
      throw new EvaluationError(`Cannot put together devices.${device}: ${error.message}.`, text.place);
    }
  }

  private caseText(caseName: string): CaseText {
    const text = this.description.sections.drive.cases.get(caseName);
    if (text === undefined) throw new RangeError(`Cannot find the operating case "${caseName}"`);
    return text;
  }

  private modelFor(device: string, surroundings: { gas?: string; temperature?: QuantityText }): DeviceModel {
    const key = `${device}|${surroundings.gas ?? ""}|${surroundings.temperature?.text ?? ""}`;
    let model = this.models.get(key);
    if (model === undefined) {
      const conditions = conditionsOf(this.description, this.scope, {
        silicon: this.silicon,
        surroundings,
        shapeFactors: this.shapeFactors,
      });
      try {
        model = createDeviceModel(this.assemblyOf(device), conditions);
      } catch (error) {
        if (!(error instanceof AssemblyError)) throw error;
        throw new EvaluationError(
          `Cannot model devices.${device}: ${error.message}.`,
          placeOfPath(this.description.parsed, ["devices", device]),
        );
      }
      this.models.set(key, model);
    }
    return model;
  }

  private voltageForTravel(device: string, travel: number): VoltageForTravel {
    const key = `${device}|${travel}`;
    let found = this.voltages.get(key);
    if (found === undefined) {
      const near = this.near?.voltages.get(key);
      found = this.modelFor(device, {}).padVoltageForTravel(travel, {
        highest: this.highestVoltage(),
        ...(near !== undefined && { near }),
      });
      this.voltages.set(key, found);
    }
    return found;
  }

  private highestVoltage(): number | undefined {
    const limit = this.description.sections.drive.supply?.limit;
    return limit === undefined ? undefined : this.scope.valueOf(limit);
  }

  private driveOf(text: CaseText, caseName: string): DriveCase {
    const { scope } = this;
    const kinds = (["pads", "supply", "current", "uniform rise", "uniform strain"] as const).filter(
      (kind) => text[kind] !== undefined,
    );
    const place = placeOfPath(this.description.parsed, ["drive", "cases", caseName]);
    if (kinds.length !== 1) {
      const found = kinds.length === 0 ? "none is" : `${kinds.join(" and ")} are`;
      throw new EvaluationError(
        `The case "${caseName}" needs exactly one of pads, supply, current, uniform rise, uniform strain; ${found} given.`,
        place,
      );
    }
    if (text.through !== undefined && text.supply === undefined) {
      throw new EvaluationError(
        `The case "${caseName}" has "through" but no "supply": a series resistor stands between a supply and the pads.`,
        place,
      );
    }
    if (text.pads !== undefined) return { kind: "pads", voltage: scope.valueOf(text.pads) };
    if (text.supply !== undefined) return this.supplyDrive(text, { place, caseName });
    if (text.current !== undefined) return { kind: "current", current: scope.valueOf(text.current) };
    if (text["uniform rise"] !== undefined) return { kind: "uniform rise", rise: scope.valueOf(text["uniform rise"]) };
    return { kind: "uniform strain", strain: scope.valueOf(text["uniform strain"]!) };
  }

  private supplyDrive(text: CaseText, at: { place: Place; caseName: string }): DriveCase {
    const { scope } = this;
    const supply = this.description.sections.drive.supply;
    const voltage = scope.valueOf(text.supply!);
    const limit = supply?.limit === undefined ? undefined : scope.valueOf(supply.limit);
    if (limit !== undefined && voltage > limit * (1 + 1e-9)) {
      throw new EvaluationError(
        `The case "${at.caseName}" asks the supply for ${voltage} V, but drive.supply.limit is ${limit} V. Lower one or raise the other.`,
        at.place,
      );
    }
    const resistor = text.through ?? supply?.["series resistor"];
    const current = supply?.["limit current"];
    return {
      kind: "supply",
      voltage,
      resistance: resistor === undefined ? 0 : scope.valueOf(resistor),
      currentLimit: current === undefined ? undefined : scope.valueOf(current),
    };
  }
}
