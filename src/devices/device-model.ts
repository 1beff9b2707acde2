/**
 * The frame model of a device: current and heat in its beams, the strain that the heat makes, and the motion that follows.
 * One way only: temperatures do not depend on the motion (gaps change by less than a per cent of what is uncertain about them).
 */

import { type Finding, SolveError } from "#base";
import { breakChanceOfRoots } from "#materials";
import {
  createElectroThermalModel,
  type ElectricSource,
  type ElectroThermalModel,
  extremeTemperature,
  type FrameLoading,
  type FrameState,
  meanFreeStrain,
  meanTemperature,
  type SteadyState,
} from "#physics";
import { absentPoint } from "./absent-point.ts";
import type { Assembly } from "./assembly.ts";
import { AssemblyError } from "./assembly-error.ts";
import { beamResults } from "./beam-results.ts";
import type { Conditions } from "./conditions.ts";
import { type Frame, FrameBuilder } from "./frame-builder.ts";
import { findOutsideLaws } from "./law-findings.ts";
import { createMechanics, type Mechanics, nElementsOf, strainsOf } from "./mechanics.ts";
import type { DriveCase, EnergyReport, OperatingPoint, RestartState } from "./operating-point.ts";
import { geometryOf, thermalNetworkOf } from "./thermal-network.ts";
import { bracketVoltage } from "./voltage-bracket.ts";
import { findWarmUpTime } from "./warm-up.ts";

export interface OperateOptions {
  /** Force against the travel on the output point, [N]. */
  readonly apexLoad: number;
  /** A neighbouring operating point of a device of the same make, to start from. */
  readonly start?: OperatingPoint;
}

export interface DeviceModel {
  readonly frame: Frame;
  operate(drive: DriveCase, options: OperateOptions): OperatingPoint;
  /** Place of the unheated output point against its drawn place, [m]. */
  restPosition(): number;
  /** Between the pads, leads included, [ohm]. */
  coldResistance(): number;
  /** Along the travel, without the load, [N/m]. */
  coldStiffness(): number;
  /** Pad voltage at which the steady travel reaches `travel` [m]; NaN with a reason where it does not. */
  padVoltageForTravel(travel: number, options: TravelOptions): VoltageForTravel;
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
  /** An operating point near the answer. */
  readonly point: OperatingPoint | undefined;
}

/**
 * Heat balance to reach by refining the mesh. Published tables have kinks, where refinement gains little: 1e-4 of the power is a
 * hundredth of what their own spread is worth.
 */
const energyTarget = 1e-4;
/** Temperatures above this are not told: every law ended long before, [K]. */
const hottestTold = 2000;
/** Small voltage at which nothing warms noticeably, for cold resistances, [V]. */
const coldVoltage = 1e-6;

class FrameDeviceModel implements DeviceModel {
  readonly frame: Frame;
  private readonly thermal: ElectroThermalModel;
  private mechanicsMade: Mechanics | undefined;
  private coldMade: number | undefined;

  constructor(
    assembly: Assembly,
    private readonly conditions: Conditions,
  ) {
    const builder = new FrameBuilder({ inward: conditions.inward, thickness: conditions.thickness });
    for (const part of assembly.parts) part.addToFrame(builder);
    this.frame = builder.finish();
    this.thermal = createElectroThermalModel(thermalNetworkOf(this.frame, assembly.heatLoss, conditions));
  }

  private get mechanics(): Mechanics {
    this.mechanicsMade ??= createMechanics(this.frame, this.conditions);
    return this.mechanicsMade;
  }

  restPosition(): number {
    const { output, restState } = this.mechanics;
    return output === undefined ? Number.NaN : restState.joints[3 * output.joint + 1]!;
  }

  coldResistance(): number {
    if (this.coldMade === undefined) {
      const cold = this.thermal.solve([{ kind: "voltage", voltage: coldVoltage, seriesResistance: 0, plus: 0, minus: 1 }], {
        // no heat worth balancing: its rounding would only refine the mesh
        energyTarget: Number.POSITIVE_INFINITY,
      });
      if (cold.outcome !== "steady") throw new AssemblyError(`the cold resistance cannot be found: ${cold.reason}`);
      this.coldMade = coldVoltage / cold.sourceCurrents[0]!;
    }
    return this.coldMade;
  }

  coldStiffness(): number {
    const { model, rest, restState, output } = this.mechanics;
    if (output === undefined) return Number.NaN;
    return model.stiffnessAt(restState, rest, output) - (this.frame.output?.loadStiffness ?? 0);
  }

  padVoltageForTravel(travel: number, options: TravelOptions): VoltageForTravel {
    let last = options.near?.point;
    const travelAt = (voltage: number): number => {
      const point = this.operate({ kind: "pads", voltage }, { apexLoad: 0, ...(last !== undefined && { start: last }) });
      if (Number.isFinite(point.travel)) last = point;
      return point.travel;
    };
    const bracket = bracketVoltage(travelAt, { travel, highest: options.highest ?? 100, guess: options.near?.value });
    if ("reason" in bracket) return { value: Number.NaN, reason: bracket.reason, point: last };
    const { low, high, fLow, fHigh } = bracket;
    let [a, fa, b, fb] = [low, fLow, high, fHigh];
    // regula falsi with the Illinois halving: safe, and fast on a smooth curve
    for (let i = 0; i < 60 && Math.abs(b - a) > 1e-9 * b; i++) {
      const next = (a * fb - b * fa) / (fb - fa);
      const value = travelAt(next) - travel;
      if (Math.abs(value) < 1e-6 * travel) return { value: next, point: last };
      if (value * fb < 0) [a, fa] = [b, fb];
      else fa /= 2;
      [b, fb] = [next, value];
    }
    return { value: (a + b) / 2, point: last };
  }

  operate(drive: DriveCase, options: OperateOptions): OperatingPoint {
    const start = options.start?.restart;
    if (drive.kind === "uniform rise" || drive.kind === "uniform strain") return this.operateUniform(drive, options, start);
    const source = sourceOf(drive);
    const steady = this.thermal.solve([source], { energyTarget, ...(start?.steady !== undefined && { start: start.steady }) });
    if (steady.outcome !== "steady")
      return absentPoint(
        this.restPosition(),
        // beyond any melting point the last temperature says nothing
        `${steady.reason}${steady.reachedTemperature < hottestTold ? ` and ${steady.reachedTemperature.toFixed(0)} K` : ""}`,
      );
    const strains = strainsOf(this.frame, this.conditions, steady.fields);
    const electric = this.electricOf(drive, steady);
    const motion = this.motionOf(strains, options, start);
    const warmUp = this.warmUpOf(source, steady, motion.absent);
    const beams = beamResults(this.frame, motion.hot, (index) => steady.fields[index]!);
    return {
      ...electric,
      ...this.temperaturesOf(steady),
      meanLegStrain: this.meanLegStrain(steady),
      ...motion.numbers,
      get hotStiffness() {
        return motion.hotStiffness();
      },
      get blockedForce() {
        return motion.blockedForce();
      },
      get warmUpTo63() {
        return warmUp.to63();
      },
      get warmUpTo90() {
        return warmUp.to90();
      },
      beams,
      findings: [...findOutsideLaws(this.frame, this.conditions, steady), ...motion.findings],
      absent: motion.absent,
      restart: { steady, hot: motion.hot },
    };
  }

  private electricOf(drive: DriveCase, steady: SteadyState) {
    const current = steady.sourceCurrents[0]!;
    const supplyVoltage =
      drive.kind === "supply" && !steady.isLimited[0]
        ? drive.voltage
        : steady.sourceVoltages[0]! + (drive.kind === "supply" ? current * drive.resistance : 0);
    const padVoltage = steady.sourceVoltages[0]!;
    const cold = this.coldResistance();
    const coldLimit = drive.kind === "supply" ? (drive.currentLimit ?? Number.POSITIVE_INFINITY) : Number.POSITIVE_INFINITY;
    const coldCurrent =
      drive.kind === "current"
        ? drive.current
        : drive.kind === "supply"
          ? Math.min(coldLimit, drive.voltage / (cold + drive.resistance))
          : padVoltage / cold;
    const { energy } = steady;
    const gas = energy.sideHeat + energy.lumpedHeat;
    const report: EnergyReport = {
      electricPower: energy.terminalPower,
      heatToAnchors: energy.heldHeat + energy.sinkHeat,
      heatToGas: gas,
      heatToLoad: this.loadHeat(steady),
      relativeDefect: energy.relativeDefect,
    };
    return {
      padVoltage,
      supplyVoltage,
      current,
      coldCurrent,
      padPower: padVoltage * current,
      supplyPower: supplyVoltage * current,
      isCurrentLimited: steady.isLimited[0] === true,
      hotResistance: current === 0 ? cold : padVoltage / current,
      gasShare: padVoltage * current === 0 ? 0 : gas / (padVoltage * current),
      energy: { ...report, heatToAnchors: report.heatToAnchors - report.heatToLoad },
    };
  }

  private warmUpOf(source: ElectricSource, steady: SteadyState, absent: Map<string, string>) {
    const legs = this.frame.beams.flatMap((beam, index) => (beam.role === "link" ? [] : [index]));
    const timeTo = (share: number): number => {
      const found = findWarmUpTime(this.thermal.network, share, { source, steady, legs, ambient: this.conditions.ambient });
      if ("time" in found) return found.time;
      absent.set("warm-up", found.reason);
      return Number.NaN;
    };
    return { to63: once(() => timeTo(1 - Math.exp(-1))), to90: once(() => timeTo(0.9)) };
  }

  private loadHeat(steady: SteadyState): number {
    return this.frame.nodes.reduce(
      (sum, node, index) => sum + node.leak * (steady.junctionTemperatures[index]! - this.conditions.ambient),
      0,
    );
  }

  private temperaturesOf(steady: SteadyState) {
    let hottest = { temperature: Number.NEGATIVE_INFINITY, place: "" };
    steady.fields.forEach((field, index) => {
      const extreme = extremeTemperature(field, 1);
      if (extreme.temperature > hottest.temperature) {
        const part = extreme.position / field.length;
        const beam = this.frame.beams[index]!;
        hottest = {
          temperature: extreme.temperature,
          place:
            beam.role === "link"
              ? beam.name.replace(/ (link|spine).*/, "")
              : `${beam.name}, ${Math.round(100 * part)} % of the way in`,
        };
      }
    });
    const anchors = this.frame.nodes.flatMap((node, index) =>
      node.terminal === undefined ? [] : [steady.junctionTemperatures[index]!],
    );
    const legs = this.legFields(steady);
    const shuttle = this.frame.shuttleNodes.map((node) => steady.junctionTemperatures[node]!);
    const mean = (values: readonly number[]): number =>
      values.length === 0 ? Number.NaN : values.reduce((sum, value) => sum + value, 0) / values.length;
    return {
      hottestTemperature: hottest.temperature,
      hottestPlace: hottest.place,
      meanLegTemperature: mean(legs.map(({ field }) => meanTemperature(field))),
      shuttleTemperature: mean(shuttle),
      anchorTemperature: anchors.length === 0 ? Number.NaN : Math.max(...anchors),
    };
  }

  private legFields(steady: SteadyState) {
    return this.frame.beams.flatMap((beam, index) => (beam.role === "link" ? [] : [{ beam, field: steady.fields[index]! }]));
  }

  private meanLegStrain(steady: SteadyState): number {
    const legs = this.legFields(steady);
    const sum = legs.reduce((total, { beam, field }) => {
      const { expansion } = this.conditions.materialAlong(geometryOf(this.frame, beam).angle);
      return total + meanFreeStrain(field, expansion, { stressFreeTemperature: this.conditions.ambient });
    }, 0);
    return sum / legs.length;
  }

  /** Motion, forces and stresses under the free strains; everything mechanical that an operating point tells. */
  private motionOf(strains: readonly Float64Array[], options: OperateOptions, start: RestartState | undefined) {
    const { model, output } = this.mechanics;
    const absent = new Map<string, string>();
    const findings: Finding[] = [];
    const loads = output === undefined || options.apexLoad === 0 ? [] : [{ ...output, value: -options.apexLoad }];
    const loading: FrameLoading = { strains, loads, held: [] };
    let hot: FrameState | undefined;
    try {
      hot = model.solve(loading, start?.hot === undefined ? {} : { start: start.hot });
    } catch (error) {
      if (!(error instanceof SolveError)) throw error;
      findings.push({ code: "buckled", severity: "error", where: "beams", message: `${error.message}. ${error.hint}` });
      absent.set("all mechanics", error.hint);
    }
    const rest = this.restPosition();
    const stresses = hot?.members.map((member) => member.peakStress) ?? [];
    const legForces =
      hot?.members.flatMap((member, index) => (this.frame.beams[index]!.role === "link" ? [] : [-member.axialForce])) ?? [];
    return {
      hot,
      findings,
      absent,
      // these two cost a solve each and are seldom asked for
      hotStiffness: once(() =>
        hot === undefined || output === undefined
          ? Number.NaN
          : model.stiffnessAt(hot, loading, output) - (this.frame.output?.loadStiffness ?? 0),
      ),
      blockedForce: once(() => this.blockedForce(strains, absent)),
      numbers: {
        travel: hot === undefined || output === undefined ? Number.NaN : hot.joints[3 * output.joint + 1]! - rest,
        restPosition: rest,
        peakStress: hot === undefined ? Number.NaN : Math.max(...stresses),
        chanceOfBrokenRoot: hot === undefined ? Number.NaN : this.chanceOfBrokenRoot(hot, absent),
        axialForce: hot === undefined ? Number.NaN : Math.max(...legForces),
      },
    };
  }

  /** Force of the output point held at rest against all its motions; NaN where the straight legs buckle first. */
  private blockedForce(strains: readonly Float64Array[], absent: Map<string, string>): number {
    const { model, output, restState } = this.mechanics;
    if (output === undefined) return Number.NaN;
    if (this.isPastBuckling(strains)) {
      absent.set("blockedForce", "held at rest, the straight legs would buckle at this strain");
      return Number.NaN;
    }
    const held = ([0, 1, 2] as const).map((motion) => ({
      joint: output.joint,
      motion,
      value: restState.joints[3 * output.joint + motion]!,
    }));
    try {
      const state = model.solve({ strains, loads: [], held });
      // the holder pushes back; the load spring, held at rest, takes its part
      return -state.reactions[1]! + (this.frame.output?.loadStiffness ?? 0) * held[1]!.value;
    } catch (error) {
      if (!(error instanceof SolveError)) throw error;
      absent.set("blockedForce", "held at rest, the straight legs buckle before this temperature");
      return Number.NaN;
    }
  }

  /**
   * A straight leg between two clamps buckles at the strain pi^2 w^2 / (3 l^2) (Euler; Timoshenko & Gere, from memory). Beyond it the
   * bowed legs still balance, but the force no longer grows with the heat: a blocked force in the usual sense does not exist.
   */
  private isPastBuckling(strains: readonly Float64Array[]): boolean {
    return this.frame.beams.some((beam, index) => {
      if (beam.role !== "leg") return false;
      const mean = strains[index]!.reduce((sum, strain) => sum + strain, 0) / strains[index]!.length;
      const { length } = geometryOf(this.frame, beam);
      return mean > (Math.PI * beam.width) ** 2 / (3 * length ** 2);
    });
  }

  private chanceOfBrokenRoot(hot: FrameState, absent: Map<string, string>): number {
    let whole = 1;
    for (const [index, beam] of this.frame.beams.entries()) {
      if (beam.role === "link") continue;
      const { strength } = this.conditions.materialAlong(geometryOf(this.frame, beam).angle);
      if (strength === undefined) {
        absent.set("chanceOfBrokenRoot", "the material has no strength");
        return Number.NaN;
      }
      for (const stress of hot.members[index]!.endStresses) whole *= 1 - breakChanceOfRoots(strength, { stress, nRoots: 1 });
    }
    return 1 - whole;
  }

  private operateUniform(
    drive: DriveCase & { kind: "uniform rise" | "uniform strain" },
    options: OperateOptions,
    start: RestartState | undefined,
  ): OperatingPoint {
    const { ambient, bondStrain } = this.conditions;
    const T = drive.kind === "uniform rise" ? ambient + drive.rise : ambient;
    const freeOf = (angle: number): number =>
      drive.kind === "uniform rise" ? this.conditions.materialAlong(angle).expansion.strainBetween(ambient, T) : drive.strain;
    const strains = this.frame.beams.map((beam) =>
      new Float64Array(nElementsOf(beam.role)).fill(freeOf(geometryOf(this.frame, beam).angle) - bondStrain),
    );
    const motion = this.motionOf(strains, options, start);
    const leg = this.frame.beams.find((beam) => beam.role !== "link")!;
    return {
      padVoltage: 0,
      supplyVoltage: 0,
      current: 0,
      coldCurrent: 0,
      padPower: 0,
      supplyPower: 0,
      isCurrentLimited: false,
      hotResistance: Number.NaN,
      gasShare: Number.NaN,
      hottestTemperature: T,
      hottestPlace: "everywhere",
      meanLegTemperature: T,
      shuttleTemperature: T,
      anchorTemperature: ambient,
      warmUpTo63: Number.NaN,
      warmUpTo90: Number.NaN,
      meanLegStrain: freeOf(geometryOf(this.frame, leg).angle),
      ...motion.numbers,
      get hotStiffness() {
        return motion.hotStiffness();
      },
      get blockedForce() {
        return motion.blockedForce();
      },
      energy: undefined,
      beams: beamResults(this.frame, motion.hot, (_, length) => ({
        positions: Float64Array.of(0, length),
        temperatures: Float64Array.of(T, T),
        current: 0,
      })),
      findings: motion.findings,
      absent: new Map([
        ...motion.absent,
        ["hotResistance", "the case is warmed without a current"],
        ["gasShare", "the case is warmed without a current"],
        ["warm-up", "the case is warmed without a current"],
      ]),
      restart: { steady: undefined, hot: motion.hot },
    };
  }
}

function sourceOf(drive: DriveCase & { kind: "pads" | "supply" | "current" }): ElectricSource {
  switch (drive.kind) {
    case "pads":
      return { kind: "voltage", voltage: drive.voltage, seriesResistance: 0, plus: 0, minus: 1 };
    case "supply":
      return {
        kind: "voltage",
        voltage: drive.voltage,
        seriesResistance: drive.resistance,
        ...(drive.currentLimit !== undefined && { currentLimit: drive.currentLimit }),
        plus: 0,
        minus: 1,
      };
    case "current":
      return { kind: "current", current: drive.current, plus: 0, minus: 1 };
  }
}

/** A number worked out when it is first asked for. */
function once(work: () => number): () => number {
  let value: number | undefined;
  return () => {
    value ??= work();
    return value;
  };
}

/** A model of an assembly under the given conditions. Throws RangeError where they do not fit together. */
export function createDeviceModel(assembly: Assembly, conditions: Conditions): DeviceModel {
  return new FrameDeviceModel(assembly, conditions);
}
