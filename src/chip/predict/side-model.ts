/**
 * One side of a chip (as drawn, or as built) with every cause of doubt at a given place: its devices and their operating points,
 * each worked out once.
 */
import type { Finding, QuantityText, TextProblem } from "#base";
import {
  type AbsentSequence,
  AssemblyError,
  createDeviceModel,
  type DeviceModel,
  type DriveCase,
  families,
  findDeviceFaults,
  type Loads,
  type OperatingPoint,
  type SequenceNumbers,
  type SequenceResults,
  type ShapeFactorStore,
  type VoltageForTravel,
} from "#devices";
import type { Description } from "../description.ts";
import { pathKey } from "../evaluate/addresses.ts";
import { conditionsOf, siliconOf } from "../evaluate/chip-conditions.ts";
import { EvaluationError, type Scope } from "../evaluate/scope.ts";
import { evaluateRecord } from "../evaluate/values.ts";
import { type MetricValue, readPointMetric, readSequenceMetric } from "../metrics/read-metric.ts";
import type { Metric } from "../metrics/vocabulary.table.ts";
import { findNode, placeOfPath } from "../text/find-node.ts";
import { type CaseText, driveOfCase, followOfCase, loadsOf, stepsOfCase } from "./case-drive.ts";
import { faultsOfCase } from "./case-faults.ts";
import { whyNotOf } from "./metric-fits.ts";

/** A metric asked for: where it stands and what else it needs. */
export interface MetricRequest {
  readonly metric: Metric;
  readonly device: string;
  readonly caseName: string | undefined;
  /** SI value under "for". */
  readonly argument: number | undefined;
  /** Name of a point or part under "where". */
  readonly where: string | undefined;
}

export class SideModel {
  private readonly silicon: ReturnType<typeof siliconOf>;
  /** Every number that the laws of the silicon depend on. */
  private readonly siliconKey: string;
  private readonly modelKeys = new Map<string, string>();
  private readonly models = new Map<string, DeviceModel>();
  private readonly points = new Map<string, OperatingPoint>();
  private readonly sequences = new Map<string, SequenceResults | AbsentSequence>();
  private readonly sequenceNumbers = new Map<string, SequenceNumbers | { readonly reason: string }>();
  private readonly voltages = new Map<string, VoltageForTravel>();

  constructor(
    private readonly description: Description,
    readonly scope: Scope,
    private readonly shapeFactors: ShapeFactorStore,
    /** A side already worked out nearby, whose states are good to start from. */
    private near: SideModel | undefined,
    /** True: answers to first order from the side nearby, for derivatives. */
    private readonly firstOrder: boolean,
  ) {
    this.siliconKey = this.numbersUnder("process.silicon", "materials");
    // laws that come out the same are the same, so that whatever was worked out for them is too
    this.silicon = near?.siliconKey === this.siliconKey ? near.silicon : siliconOf(description, scope);
  }

  /** Lets the side nearby go, once everything that is wanted of this one is worked out: a long row of sides need not be kept. */
  forgetNear(): void {
    this.near = undefined;
  }

  /** All numbers of the text under some paths, and what moves published laws, as one key. */
  private numbersUnder(...roots: readonly string[]): string {
    const numbers = this.description.quantities.flatMap((quantity) => {
      const path = pathKey(quantity.path);
      return roots.some((root) => path === root || path.startsWith(`${root}.`)) ? [this.scope.valueOf(quantity)] : [];
    });
    return [...numbers, ...[...this.scope.deviations].flatMap(([cause, z]) => (cause.includes(".") ? [] : [cause, z]))].join(" ");
  }

  /** The steady state of a device in a case. */
  pointAt(device: string, caseName: string): OperatingPoint {
    const key = `${device}|${caseName}`;
    let point = this.points.get(key);
    if (point === undefined) {
      const text = this.caseText(caseName);
      const start = this.near?.points.get(key);
      const model = this.modelFor(device, text);
      const drive = this.driveOf(text, caseName);
      const loads = this.loadsAt(model, text, caseName);
      const follow = followOfCase(text, this.caseContext(caseName));
      point =
        this.firstOrder && this.near !== undefined && start !== undefined
          ? model.operateNear(drive, {
              model: this.near.modelFor(device, text),
              drive: this.near.driveOf(text, caseName),
              point: start,
              loads,
              follow,
            })
          : model.operate(drive, { loads, follow, ...(start !== undefined && { start }) });
      this.points.set(key, point);
    }
    return point;
  }

  /** What a run through the steps of a case comes to. */
  sequenceAt(device: string, caseName: string): SequenceResults | AbsentSequence {
    const key = `${device}|${caseName}`;
    let results = this.sequences.get(key);
    if (results === undefined) {
      const text = this.caseText(caseName);
      const model = this.modelFor(device, text);
      results = model.run(stepsOfCase(text, this.caseContext(caseName)), this.loadsAt(model, text, caseName));
      this.sequences.set(key, results);
    }
    return results;
  }

  /** Numbers of such a run; to first order where the side nearby has made it. */
  private sequenceNumbersAt(device: string, caseName: string): SequenceNumbers | { readonly reason: string } {
    const key = `${device}|${caseName}`;
    const results = this.near?.sequences.get(key);
    if (!this.firstOrder || results === undefined || "reason" in results) return this.sequenceAt(device, caseName);
    let numbers = this.sequenceNumbers.get(key);
    if (numbers === undefined) {
      const text = this.caseText(caseName);
      const model = this.modelFor(device, text);
      const steps = stepsOfCase(text, this.caseContext(caseName));
      numbers = model.runNear(steps, { results, loads: this.loadsAt(model, text, caseName) });
      this.sequenceNumbers.set(key, numbers);
    }
    return numbers;
  }

  private caseContext(caseName: string) {
    const { parsed, sections } = this.description;
    return { caseName, scope: this.scope, parsed, supply: sections.drive.supply };
  }

  private loadsAt(model: DeviceModel, text: CaseText, caseName: string): Loads {
    return loadsOf(text, { ...this.caseContext(caseName), points: model.parts.device.drawing.points });
  }

  /** The model of a device in the chip's own surroundings. */
  deviceModel(device: string): DeviceModel {
    return this.modelFor(device, {});
  }

  /** The model that a case is worked out on: in the gas and at the temperature of the case. */
  modelAt(device: string, caseName: string): DeviceModel {
    return this.modelFor(device, this.caseText(caseName));
  }

  /** Value of a metric; NaN with a reason where it does not exist. */
  valueOf(request: MetricRequest): MetricValue {
    const found = this.readValue(request);
    return Number.isFinite(found.value) ? found : { value: found.value, reason: this.whyAbsent(request, found) };
  }

  /** Why a metric has no number, as a clause: the device cannot have it, the model says why, or the case says it. */
  private whyAbsent({ metric, device, caseName, where }: MetricRequest, { value, reason }: MetricValue): string {
    const missing = this.missingSubject(device, metric, where);
    if (missing !== undefined) return missing.replace(/\.$/, "");
    if (reason !== undefined) return reason;
    if (Math.abs(value) === Number.POSITIVE_INFINITY)
      return "what is asked about is held and does not give: ask at a place that may move, or in a case that does not hold it";
    const text: Partial<CaseText> = caseName === undefined ? {} : this.caseText(caseName);
    if (text["uniform rise"] !== undefined || text["uniform strain"] !== undefined)
      return "no current warms the device in this case: nothing is known of its heat";
    return `no cause of it is known for ${metric.word} of devices.${device}: look at the findings of the prediction, and ask another metric`;
  }

  private readValue(request: MetricRequest): MetricValue {
    const { metric, device, caseName, argument, where } = request;
    const model = this.modelFor(device, {});
    if (metric.stands === "case") {
      const { points } = model.parts.device.drawing;
      const place = metric.where === "point" ? points.get(where!) : undefined;
      const part = metric.where === "part" ? where : undefined;
      if (this.caseText(caseName!).steps !== undefined)
        return readSequenceMetric(metric.word, this.sequenceNumbersAt(device, caseName!));
      return readPointMetric(metric.word, this.pointAt(device, caseName!), { argument, place, part });
    }
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

  /** Evaluates every device, so that a check finds what does not fit together and what nothing holds. */
  checkDevices(): readonly TextProblem[] {
    return [...this.description.sections.devices.keys()].flatMap((device) => {
      try {
        return findDeviceFaults(this.modelFor(device, {})).map(({ part, message }) => ({
          place: this.placeOfPart(device, part),
          message: `Cannot model devices.${device}: ${message}.`,
        }));
      } catch (error) {
        if (error instanceof EvaluationError) return [{ place: error.place, message: error.message }];
        throw error;
      }
    });
  }

  /** Where a part is told; a copy, or a piece of a family, where its device is. */
  private placeOfPart(device: string, part: string | undefined) {
    const path = ["devices", device, ...(part === undefined ? [] : ["parts", part])];
    const { parsed } = this.description;
    return findNode(parsed.root, path) === undefined ? placeOfPath(parsed, ["devices", device]) : placeOfPath(parsed, path);
  }

  /** Checks that a device has what a metric asks about; the sentence where it has not. */
  missingSubject(device: string, metric: Metric, where: string | undefined): string | undefined {
    return whyNotOf(this.modelFor(device, {}).parts.device, metric, { device, where });
  }

  /** Checks that a case says one drive that this chip understands. */
  checkCase(caseName: string): void {
    const text = this.caseText(caseName);
    followOfCase(text, this.caseContext(caseName));
    if (text.steps === undefined) this.driveOf(text, caseName);
    else stepsOfCase(text, this.caseContext(caseName));
  }

  /** What keeps a device from being looked at in a case. */
  checkDeviceInCase(device: string, caseName: string): readonly TextProblem[] {
    const text = this.caseText(caseName);
    // the gas of a case decides whether its heat can leave
    const model = this.modelFor(device, text.gas === undefined ? {} : text);
    const place = placeOfPath(this.description.parsed, ["drive", "cases", caseName]);
    return faultsOfCase(model, { device, caseName, text }).map((message) => ({ place, message }));
  }

  findings(): readonly Finding[] {
    const seen = new Set<string>();
    return [...this.points, ...this.sequences].flatMap(([key, { findings }]) => {
      const [device, caseName] = key.split("|");
      return findings
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
      const numbers = this.numbersUnder(`devices.${device}`, "process", "materials", "surroundings", "die");
      this.modelKeys.set(key, numbers);
      const like = this.near?.models.get(key);
      if (like !== undefined && this.near?.modelKeys.get(key) === numbers) {
        this.models.set(key, like);
        return like;
      }
      const conditions = conditionsOf(this.description, this.scope, {
        silicon: this.silicon,
        surroundings,
        shapeFactors: this.shapeFactors,
        device,
      });
      try {
        model = createDeviceModel(this.assemblyOf(device), conditions, like === undefined ? {} : { like });
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
      const model = this.modelFor(device, {});
      found =
        this.firstOrder && this.near !== undefined && near !== undefined
          ? model.padVoltageNear(travel, { model: this.near.modelFor(device, {}), found: near })
          : model.padVoltageForTravel(travel, { highest: this.highestVoltage(), ...(near !== undefined && { near }) });
      this.voltages.set(key, found);
    }
    return found;
  }

  private highestVoltage(): number | undefined {
    const limit = this.description.sections.drive.supply?.limit;
    return limit === undefined ? undefined : this.scope.valueOf(limit);
  }

  private driveOf(text: CaseText, caseName: string): DriveCase {
    return driveOfCase(text, this.caseContext(caseName));
  }
}
