/**
 * The model of a device: current and heat in its parts, the strain that the heat makes, and the motion that follows.
 * One way only: temperatures do not depend on the motion (gaps change by less than a per cent of what is uncertain about them).
 */
import { type ElectricSource, estimateDiscretisation, type FrameSolution, type LinearisedFrame, lineariseFrame } from "#physics";
import { AssemblyError } from "./assembly-error.ts";
import type { Conditions } from "./conditions.ts";
import type { Drawing } from "./drawing/part.ts";
import { absentPoint } from "./model/absent-point.ts";
import { type DeviceParts, putTogether, refineFrame } from "./model/device-parts.ts";
import { DevicePoint } from "./model/device-point.ts";
import { type DriveCase, type Fed, type Loads, noLoads, noPotentials, sourcesOf, type UniformWarmth } from "./model/drive.ts";
import { electricResults, withoutCurrent } from "./model/electric-results.ts";
import { type FreeStrains, heatedStrains, uniformStrains } from "./model/free-strains.ts";
import { type Follow, followMotion, type GrowingCase, Instability } from "./model/instability.ts";
import { findOutsideLaws } from "./model/law-findings.ts";
import { furthestOf, hottestTold, tellOverrun } from "./model/law-limit.ts";
import { isMotion, type Motion, type NoMotion, stiffnessOf } from "./model/mechanics.ts";
import type { OperatingPoint, RestartState } from "./model/operating-point.ts";
import { storesHeat } from "./model/sequence.ts";
import { findSeveralStates } from "./model/several-states.ts";
import type { SequenceStep } from "./model/supply-series.ts";
import { hottestOf } from "./model/temperature-results.ts";
import {
  type AbsentSequence,
  type SequenceNumbers,
  type SequenceResults,
  sequenceNumbersNear,
  sequenceResults,
  TimedRuns,
} from "./model/timing.ts";
import { findVoltageForTravel } from "./model/voltage-for-travel.ts";

export interface OperateOptions {
  readonly loads: Loads;
  /** State of balance to look at, where it is not the one that the case comes to by itself. */
  readonly follow?: Follow | undefined;
  /** A neighbouring operating point of a device of the same make, to start from. */
  readonly start?: OperatingPoint;
}

export interface TravelOptions {
  /** Highest voltage that may be tried, [V]. */
  readonly highest: number | undefined;
  /** The answer of a neighbouring device, to start from. */
  readonly near?: VoltageForTravel;
}

export interface VoltageForTravel {
  readonly value: number;
  readonly reason?: string;
  /** The operating point there. */
  readonly point: OperatingPoint | undefined;
  /** Growth of the travel with the voltage there, [m/V]. */
  readonly slope: number;
}

/**
 * Heat balance to reach by refining the mesh. Published tables have kinks, where refinement gains little: 1e-4 of the power is a
 * hundredth of what their own spread is worth.
 */
const energyTarget = 1e-4;
/** Small voltage at which nothing warms noticeably, for cold resistances, [V]. */
const coldVoltage = 1e-6;

/** The drive of cold resistances. */
const coldDrive: Fed = { kind: "pads", voltage: coldVoltage, potentials: noPotentials };

/** The same sources at a part of their voltages and currents. */
function partOfDrive(sources: readonly ElectricSource[], fraction: number): ElectricSource[] {
  return sources.map((source) =>
    source.kind === "voltage"
      ? { ...source, voltage: fraction * source.voltage }
      : { ...source, current: fraction * source.current },
  );
}

function isFed(drive: DriveCase): drive is Fed {
  return drive.kind === "pads" || drive.kind === "supply" || drive.kind === "current";
}

/** What the number of elements may leave of the motion, as a part of it, and the most a beam may be cut into. */
const discretisationTarget = 1e-4;
const mostElements = 200;

export class DeviceModel {
  /** With as many elements as the operating points so far have asked for. */
  parts: DeviceParts;
  private coldMade: number | undefined;
  private coldSolved: FrameSolution | undefined;
  /** Tangents at states already asked about. */
  private readonly linearised = new WeakMap<FrameSolution, LinearisedFrame>();

  constructor(drawing: Drawing, conditions: Conditions, like: DeviceModel | undefined) {
    this.parts = putTogether(drawing, conditions, like?.parts);
  }

  /** Place of the unheated output point against its drawn place, along the travel, [m]. */
  restPosition(): number {
    const { mechanics, device } = this.parts;
    const { output } = device.drawing;
    if (output === undefined) return Number.NaN;
    const { x, y } = mechanics.motionOf(mechanics.rest, mechanics.siteAt(output.at, "the output"));
    return x * Math.cos(output.direction) + y * Math.sin(output.direction);
  }

  /** Between plus and minus, leads included, [ohm]. */
  coldResistance(): number {
    this.coldMade ??= coldVoltage / this.coldState().sourceCurrents[0]!;
    return this.coldMade;
  }

  private coldState(): FrameSolution {
    this.coldSolved ??= this.solveCold(this.sources(coldDrive));
    return this.coldSolved;
  }

  private solveCold(sources: readonly ElectricSource[]): FrameSolution {
    // no heat worth balancing: its rounding would only refine the mesh
    const cold = this.parts.thermal().solve(sources, { energyTarget: Number.POSITIVE_INFINITY });
    if (cold.outcome !== "steady") throw new AssemblyError(`the cold resistance cannot be found: ${cold.reason}`);
    return cold;
  }

  /** Into plus while nothing is warm, further nets at their potentials, no limit of the supply, [A]. */
  private coldCurrentAmongNets(drive: Fed): number {
    const sources = this.sources(drive);
    const highest = sources.reduce(
      (most, source) => (source.kind === "voltage" ? Math.max(most, Math.abs(source.voltage)) : most),
      0,
    );
    if (highest === 0) return 0;
    // unheated, all currents grow with the voltages; a limit is the supply's own matter
    const factor = coldVoltage / highest;
    const small = partOfDrive(sources, factor);
    return this.solveCold(small).sourceCurrents[0]! / factor;
  }

  /** Along the travel, without idealised springs there, [N/m]. */
  coldStiffness(): number {
    const { mechanics, device, loadStiffness } = this.parts;
    const { output } = device.drawing;
    if (output === undefined) return Number.NaN;
    return stiffnessOf(mechanics.rest, mechanics.siteAt(output.at, "the output"), output.direction) - loadStiffness;
  }

  /** Pad voltage at which the steady travel reaches `travel` [m]; NaN with a reason where it does not. */
  padVoltageForTravel(travel: number, options: TravelOptions): VoltageForTravel {
    let last = options.near?.point;
    const travelAt = (voltage: number): number => {
      const point = this.operate(
        { kind: "pads", voltage, potentials: noPotentials },
        { loads: noLoads, ...(last !== undefined && { start: last }) },
      );
      if (Number.isFinite(point.travel)) last = point;
      return point.travel;
    };
    const found = findVoltageForTravel(travelAt, { travel, highest: options.highest ?? 100, guess: options.near?.value });
    if ("reason" in found) return { value: Number.NaN, reason: found.reason, point: last, slope: Number.NaN };
    const { value } = found;
    const step = 1e-4 * value;
    const drive = (voltage: number): Fed => ({ kind: "pads", voltage, potentials: noPotentials });
    const slope =
      last === undefined
        ? Number.NaN
        : (this.operateNear(drive(value + step), { model: this, drive: drive(value), point: last, loads: noLoads }).travel -
            last.travel) /
          step;
    return { value, point: last, slope };
  }

  /** The same to first order, from a neighbouring device's answer. */
  padVoltageNear(travel: number, near: { readonly model: DeviceModel; readonly found: VoltageForTravel }): VoltageForTravel {
    const { model, found } = near;
    const { point, value: voltage, slope } = found;
    if (point === undefined || !Number.isFinite(voltage)) return found;
    const drive: Fed = { kind: "pads", voltage, potentials: noPotentials };
    const here = this.operateNear(drive, { drive, point, loads: noLoads, model });
    return { value: voltage + (travel - here.travel) / slope, point: here, slope };
  }

  operate(drive: DriveCase, options: OperateOptions): OperatingPoint {
    const start = options.start?.restart;
    if (drive.kind === "uniform rise" || drive.kind === "uniform strain")
      return this.operateUniform(drive, { ...options, restart: start });
    const sources = this.sources(drive);
    const hottest = hottestTold(this.parts);
    const steady = this.parts.thermal().solve(sources, {
      energyTarget,
      hottest,
      ...(start?.steady !== undefined && { start: start.steady }),
    });
    const isSteady = steady.outcome === "steady";
    const furthest = isSteady ? furthestOf(this.parts, steady) : undefined;
    if (!isSteady || (furthest !== undefined && furthest.temperature > furthest.limit)) {
      const { parts } = this;
      const solveAt = (fraction: number): FrameSolution | undefined => {
        // no balance worth refining for: the place is told to three digits
        const found = parts.thermal().solve(partOfDrive(sources, fraction), { energyTarget: Number.POSITIVE_INFINITY, hottest });
        return found.outcome === "steady" ? found : undefined;
      };
      return absentPoint(this.restPosition(), () =>
        tellOverrun(parts, {
          below: isSteady ? 1 : steady.reachedFraction,
          isTooHot: isSteady || steady.reachedTemperature > hottest,
          solveAt,
        }),
      );
    }
    const growing = { strainsOf: (parts: DeviceParts) => heatedStrains(parts, steady), loads: options.loads };
    const { strains, motion, instability } = this.motionUnder(growing, { start, follow: options.follow });
    const { conditions, heat } = this.parts;
    return new DevicePoint({
      parts: this.parts,
      strains,
      loads: options.loads,
      steady,
      electric: electricResults(steady, {
        drive,
        coldResistance: () => this.coldResistance(),
        coldCurrentAmongNets: () => this.coldCurrentAmongNets(drive),
        heat,
        ambient: conditions.ambient,
      }),
      uniform: undefined,
      motion,
      linearised: storesHeat(this.parts) ? () => this.linearisedAt(drive, steady) : undefined,
      findings: findOutsideLaws(this.parts, steady),
      several: () => [
        ...findSeveralStates(this.parts, sources, { hottestTemperature: hottestOf(this.parts, steady).temperature }),
        ...instability.findings(),
      ],
      instability,
      near: undefined,
      timing: new TimedRuns({ parts: this.parts, drive, steady, loads: options.loads, near: undefined }),
    });
  }

  /**
   * The operating point to first order, from that of a device that differs from this one by little: one residual and one
   * back-substitution for heat and current, the same for the frame. For derivatives.
   */
  operateNear(
    drive: DriveCase,
    near: {
      readonly model: DeviceModel;
      readonly drive: DriveCase;
      readonly point: OperatingPoint;
      readonly loads: Loads;
      readonly follow?: Follow | undefined;
    },
  ): OperatingPoint {
    const { loads, follow } = near;
    const { steady, motion } = near.point.restart;
    if (
      motion === undefined ||
      // a state beyond an instability may have no tangent
      follow !== undefined ||
      !isFed(drive) ||
      !isFed(near.drive) ||
      steady === undefined ||
      !this.parts.mechanics.isLike(motion)
    )
      return this.operate(drive, { loads, follow });
    const estimate = near.model.linearisedAt(near.drive, steady).respondTo(this.parts.heat.network, this.sources(drive));
    const found = { ...estimate, isLimited: steady.isLimited };
    const strains = heatedStrains(this.parts, found);
    const { mechanics, heat, conditions } = this.parts;
    const estimated = mechanics.estimate(mechanics.loadOf(strains, loads), motion);
    return new DevicePoint({
      parts: this.parts,
      strains,
      loads,
      steady: found,
      electric: electricResults(found, {
        drive,
        coldResistance: () => this.coldResistanceNear(near.model),
        coldCurrentAmongNets: () => this.coldCurrentAmongNets(drive),
        heat,
        ambient: conditions.ambient,
      }),
      uniform: undefined,
      motion: estimated,
      linearised: storesHeat(this.parts) ? () => this.linearisedAt(drive, found) : undefined,
      findings: [],
      several: () => [],
      instability: new Instability(
        this.parts,
        { strainsOf: (parts) => heatedStrains(parts, found), loads },
        { motion: estimated, loadFactor: 1, follow },
      ),
      near: near.point,
      timing: new TimedRuns({ parts: this.parts, drive, steady: found, loads, near: near.point.restart.timing }),
    });
  }

  private linearisedAt(drive: Fed, state: FrameSolution): LinearisedFrame {
    let known = this.linearised.get(state);
    if (known === undefined) {
      known = lineariseFrame(this.parts.heat.network, { state, sources: this.sources(drive) });
      this.linearised.set(state, known);
    }
    return known;
  }

  private coldResistanceNear(model: DeviceModel): number {
    if (this.coldMade === undefined) {
      const cold = model.coldState();
      const estimate = model.linearisedAt(coldDrive, cold).respondTo(this.parts.heat.network, this.sources(coldDrive));
      this.coldMade = coldVoltage / estimate.sourceCurrents[0]!;
    }
    return this.coldMade;
  }

  /** Runs through the steps of a drive, from cold. */
  run(steps: readonly SequenceStep[], loads: Loads): SequenceResults | AbsentSequence {
    return sequenceResults(this.parts, steps, loads);
  }

  /** The same to first order, from the run of a device that differs from this one by little. */
  runNear(
    steps: readonly SequenceStep[],
    near: { readonly results: SequenceResults; readonly loads: Loads },
  ): SequenceNumbers | { readonly reason: string } {
    return sequenceNumbersNear(this.parts, steps, { loads: near.loads, near: near.results });
  }

  private operateUniform(
    drive: { readonly kind: "uniform rise" | "uniform strain"; readonly warmth: UniformWarmth },
    options: { readonly loads: Loads; readonly restart: RestartState | undefined; readonly follow?: Follow | undefined },
  ): OperatingPoint {
    const { kind, warmth } = drive;
    const valueFor = (part: string): number => warmth.parts.get(part) ?? warmth.everywhere;
    const { strains, motion, instability } = this.motionUnder(
      { strainsOf: (parts) => uniformStrains(parts, { kind, valueOf: valueFor }), loads: options.loads },
      { start: options.restart, follow: options.follow },
    );
    const { device, conditions } = this.parts;
    const leg = device.beams.find((beam) => beam.part.isLeg) ?? device.beams[0];
    const strainOfLegs =
      leg === undefined
        ? Number.NaN
        : kind === "uniform strain"
          ? valueFor(leg.part.name)
          : conditions
              .materialAlong(leg.angle)
              .expansion.strainBetween(conditions.ambient, conditions.ambient + valueFor(leg.part.name));
    return new DevicePoint({
      parts: this.parts,
      strains,
      loads: options.loads,
      steady: undefined,
      electric: withoutCurrent,
      uniform: { riseOf: (part) => (kind === "uniform rise" ? valueFor(part) : 0), strainOfLegs },
      motion,
      linearised: undefined,
      findings: [],
      several: () => instability.findings(),
      instability,
      near: undefined,
      timing: undefined,
    });
  }

  /** Balance under the strains of the parts; from cold, with as many elements as it takes. */
  private motionUnder(
    growing: GrowingCase,
    at: { readonly start: RestartState | undefined; readonly follow: Follow | undefined },
  ): { readonly strains: FreeStrains; readonly motion: Motion | NoMotion; readonly instability: Instability } {
    const { start, follow } = at;
    const { strainsOf, loads } = growing;
    const shown = (motion: Motion | NoMotion, loadFactor = 1) => ({
      strains: strainsOf(this.parts),
      motion,
      instability: new Instability(this.parts, growing, { motion, loadFactor, follow }),
    });
    if (follow !== undefined) {
      const { parts, motion, loadFactor } = followMotion(this.parts, growing, follow);
      this.parts = parts;
      return shown(motion, loadFactor);
    }
    for (;;) {
      const { mechanics, elements } = this.parts;
      const motion = mechanics.solve(mechanics.loadOf(strainsOf(this.parts), loads), start?.motion?.state);
      if (start !== undefined || !isMotion(motion) || elements.leg >= mostElements) return shown(motion);
      const { relative } = estimateDiscretisation(motion.model, motion.state);
      if (!(relative > discretisationTarget)) return shown(motion);
      // the error falls with the fourth power of the element's length; a little more, so that once is enough
      this.parts = refineFrame(this.parts, Math.max(1.25, 1.2 * (relative / discretisationTarget) ** 0.25));
    }
  }

  private sources(drive: Fed) {
    const { heat, device } = this.parts;
    const wired = new Set(
      device.bodies.flatMap(({ part }) => (part.kind === "anchor" && part.wire !== undefined ? [part.wire] : [])),
    );
    return sourcesOf(drive, heat.terminals, wired);
  }
}

/** A model of a drawing under the given conditions. Throws AssemblyError where they do not fit together. */
export function createDeviceModel(
  drawing: Drawing,
  conditions: Conditions,
  options: { readonly like?: DeviceModel } = {},
): DeviceModel {
  return new DeviceModel(drawing, conditions, options.like);
}
