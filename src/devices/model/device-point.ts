/**
 * One operating point of a device, worked out as far as it is asked: the steady state and the motion first, everything that costs a
 * solve of its own when it is wanted.
 */
import type { Finding } from "#base";
import {
  type BeamForces,
  estimateDiscretisation,
  type FilmForce,
  type FrameSolution,
  findBeamForces,
  type LinearisedFrame,
} from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Place } from "../drawing/part.ts";
import { DampedModes, thermalMotionOf } from "./damped-modes.ts";
import type { DeviceParts } from "./device-parts.ts";
import type { Loads } from "./drive.ts";
import { type ElectricResults, withoutCurrent } from "./electric-results.ts";
import type { FreeStrains } from "./free-strains.ts";
import type { Refused } from "./gas-damping.ts";
import { forceHeldAt, straightLegsBuckle } from "./held-force.ts";
import type { Instability } from "./instability.ts";
import { closedTravel, createLightModel } from "./light-results.ts";
import { closedStops, isMotion, type Motion, type NoMotion, type PlaceMotion, stiffnessOf } from "./mechanics.ts";
import type { BeamResult, OperatingPoint, PartResult, RestartState } from "./operating-point.ts";
import { breakChance } from "./root-strength.ts";
import { type MotionFamily, type ShockMotion, SmallMotions } from "./small-motions.ts";
import {
  hottestOf,
  meanOfPart,
  meanOfSilicon,
  type TemperatureResults,
  temperatureResults,
  temperatureThere,
} from "./temperature-results.ts";
import type { Timed, TimedRuns } from "./timing.ts";
import { temperatureOf, type WarmUpSubject } from "./warm-up.ts";

/** What a point is made from. */
export interface PointSource {
  readonly parts: DeviceParts;
  readonly strains: FreeStrains;
  readonly loads: Loads;
  readonly steady: FrameSolution | undefined;
  readonly electric: ElectricResults;
  /** Of a device warmed without a current, by part. */
  readonly uniform: { readonly riseOf: (part: string) => number; readonly strainOfLegs: number } | undefined;
  readonly motion: Motion | NoMotion;
  /** Heat and current about the state; undefined without a current, or where the parts store no heat. */
  readonly linearised: (() => LinearisedFrame) | undefined;
  readonly findings: readonly Finding[];
  /** Other states that the drive may end in; searched only when findings are asked for. */
  readonly several: () => readonly Finding[];
  readonly instability: Instability;
  /** The point that this one was estimated from, to first order; undefined where it was solved. */
  readonly near: { readonly small: SmallMotions | undefined } | undefined;
  /** Times in which the drive of this point warms the legs to a temperature and moves to a travel, and in which the travel falls. */
  readonly timing: TimedRuns | undefined;
}

const unheated = "the case is warmed without a current";

export class DevicePoint implements OperatingPoint {
  readonly absent = new Map<string, string>();
  private readonly known = new Map<string, unknown>();

  constructor(private readonly source: PointSource) {
    if (source.steady === undefined) for (const name of ["hotResistance", "share", "warm-up"]) this.absent.set(name, unheated);
    if (!isMotion(source.motion)) this.absent.set("mechanics", source.motion.reason);
  }

  private once<T>(name: string, work: () => T): T {
    if (!this.known.has(name)) this.known.set(name, work());
    return this.known.get(name) as T;
  }

  private get electric(): ElectricResults {
    return this.source.steady === undefined ? withoutCurrent : this.source.electric;
  }

  get padVoltage(): number {
    return this.electric.padVoltage;
  }
  get supplyVoltage(): number {
    return this.electric.supplyVoltage;
  }
  get current(): number {
    return this.electric.current;
  }
  get coldCurrent(): number {
    return this.electric.coldCurrent;
  }
  get padPower(): number {
    return this.electric.padPower;
  }
  get supplyPower(): number {
    return this.electric.supplyPower;
  }
  get isCurrentLimited(): boolean {
    return this.electric.isCurrentLimited;
  }
  get hotResistance(): number {
    return this.electric.hotResistance;
  }
  get gasShare(): number {
    return this.electric.gasShare;
  }
  get radiatedShare(): number {
    return this.electric.radiatedShare;
  }
  get substrateShare(): number {
    return this.electric.substrateShare;
  }
  get energy(): ElectricResults["energy"] {
    return this.electric.energy;
  }

  private get temperatures(): TemperatureResults {
    return this.once("temperatures", () => {
      const { steady, parts, uniform } = this.source;
      if (steady !== undefined) return temperatureResults(parts, steady);
      const { ambient } = parts.conditions;
      const names = parts.device.beams.map((beam) => beam.part.name);
      const legs = parts.device.beams.filter((beam) => beam.part.isLeg).map((beam) => beam.part.name);
      const rises = names.map((name) => uniform!.riseOf(name));
      const legRises = legs.map((name) => uniform!.riseOf(name));
      const hottest = Math.max(...rises);
      return {
        hottestTemperature: ambient + hottest,
        hottestPlace: rises.every((rise) => rise === hottest) ? "everywhere" : names[rises.indexOf(hottest)]!,
        meanLegTemperature: ambient + legRises.reduce((sum, rise) => sum + rise, 0) / legRises.length,
        shuttleTemperature: ambient + hottest,
        anchorTemperature: ambient,
        meanLegStrain: uniform!.strainOfLegs,
      };
    });
  }

  get hottestTemperature(): number {
    return this.temperatures.hottestTemperature;
  }
  get hottestPlace(): string {
    return this.temperatures.hottestPlace;
  }
  get meanLegTemperature(): number {
    return this.temperatures.meanLegTemperature;
  }
  get shuttleTemperature(): number {
    return this.temperatures.shuttleTemperature;
  }
  get anchorTemperature(): number {
    return this.temperatures.anchorTemperature;
  }
  get meanLegStrain(): number {
    return this.temperatures.meanLegStrain;
  }

  private get found(): Motion | undefined {
    const { motion } = this.source;
    return isMotion(motion) ? motion : undefined;
  }

  /** Along the travel, from where the point was drawn, at rest and now, [m]. */
  private travelOf(motion: Motion): number {
    const { device, mechanics } = this.source.parts;
    const { output } = device.drawing;
    if (output === undefined) return Number.NaN;
    const { x, y } = mechanics.motionOf(motion, mechanics.siteAt(output.at, "the output"));
    return x * Math.cos(output.direction) + y * Math.sin(output.direction);
  }

  get restPosition(): number {
    return this.once("restPosition", () => this.travelOf(this.source.parts.mechanics.rest));
  }

  get travel(): number {
    return this.once("travel", () => (this.found === undefined ? Number.NaN : this.travelOf(this.found) - this.restPosition));
  }

  private get forces(): readonly BeamForces[] | undefined {
    return this.once("forces", () => this.found && findBeamForces(this.found.model, this.found.state));
  }

  get peakStress(): number {
    const { frameBeamOf } = this.source.parts.frame;
    return this.forces === undefined
      ? Number.NaN
      : [...frameBeamOf].reduce((most, beam) => Math.max(most, this.forces![beam]!.peakStress), 0);
  }

  get peakRootStress(): number {
    return this.peakStress * this.source.parts.conditions.notchFactor;
  }

  get axialForce(): number {
    const { parts } = this.source;
    const legs = parts.device.beams.flatMap((beam, index) => (beam.part.isLeg ? [index] : []));
    return this.forces === undefined || legs.length === 0 ? Number.NaN : Math.max(...legs.map((leg) => -this.meanAxial(leg)));
  }

  private meanAxial(beam: number): number {
    const { axialForces } = this.forces![this.source.parts.frame.frameBeamOf[beam]!]!;
    return axialForces.reduce((sum, force) => sum + force, 0) / axialForces.length;
  }

  get chanceOfBrokenRoot(): number {
    return this.once("chanceOfBrokenRoot", () => {
      if (this.forces === undefined) return Number.NaN;
      const chance = breakChance(this.source.parts, this.forces);
      if (chance === undefined) this.absent.set("chanceOfBrokenRoot", "the material has no strength");
      return chance ?? Number.NaN;
    });
  }

  get hotStiffness(): number {
    return this.once("hotStiffness", () => {
      const { output } = this.source.parts.device.drawing;
      if (output === undefined) return Number.NaN;
      return this.stiffnessAt(output.at, output.direction) - this.source.parts.loadStiffness;
    });
  }

  stiffnessAt(place: Place, direction: number): number {
    const { found } = this;
    if (found === undefined) return Number.NaN;
    const stiffness = stiffnessOf(found, this.source.parts.mechanics.siteAt(place, "the point"), direction);
    if (stiffness === Number.POSITIVE_INFINITY) {
      const stops = closedStops(found);
      const holder = stops.length === 0 ? "the case holds the point" : `the point is pressed on its stop (${stops.join(", ")})`;
      this.absent.set("stiffness", `${holder} and gives no way along this direction`);
    }
    return stiffness;
  }

  get blockedForce(): number {
    return this.once("blockedForce", () => {
      const { parts, strains } = this.source;
      const reason = straightLegsBuckle(parts, strains);
      if (reason !== undefined) {
        this.absent.set("blockedForce", reason);
        return Number.NaN;
      }
      return this.heldForce(0, "blockedForce");
    });
  }

  forceAtTravel(travel: number): number {
    return this.once(`force at ${travel}`, () => this.heldForce(travel, "force at travel"));
  }

  /** At a travel from rest, [N]. */
  private heldForce(travel: number, absent: string): number {
    const { parts, strains, loads } = this.source;
    const found = forceHeldAt(parts, parts.mechanics.loadOf(strains, loads), { travel, restPosition: this.restPosition });
    if (typeof found === "number") return found;
    this.absent.set(absent, travel === 0 ? `held at rest, ${found.reason}` : found.reason);
    return Number.NaN;
  }

  timeConstants(count: number): readonly number[] {
    const { linearised } = this.source;
    const found = linearised === undefined ? [] : linearised().timeConstants(count);
    return Array.from({ length: count }, (_, i) => found[i] ?? Number.NaN);
  }

  get bandwidth(): number {
    return this.once("bandwidth", () => {
      const { linearised, parts } = this.source;
      const branches = parts.device.beams.flatMap((beam, index) => (beam.part.isLeg ? [parts.heat.branchOfBeam[index]!] : []));
      return linearised === undefined || branches.length === 0 ? Number.NaN : linearised().bandwidth({ source: 0, branches });
    });
  }

  get warmUpTo63(): number {
    return this.warmUpTo(1 - Math.exp(-1));
  }

  get warmUpTo90(): number {
    return this.warmUpTo(0.9);
  }

  get meanTemperature(): number {
    const { steady, parts } = this.source;
    return steady === undefined ? Number.NaN : meanOfSilicon(parts, steady);
  }

  warmUpOf(subject: WarmUpSubject, share: number): number {
    const { steady, parts } = this.source;
    if (steady === undefined) return Number.NaN;
    const observe = temperatureOf(parts, subject);
    const { ambient } = parts.conditions;
    return this.timed(`warm-up of ${JSON.stringify(subject)} ${share}`, "warm-up", (runs) =>
      runs.toReach(ambient + share * (observe(steady) - ambient), subject),
    );
  }

  private warmUpTo(share: number): number {
    const { ambient } = this.source.parts.conditions;
    return this.timed(`warm-up ${share}`, "warm-up", (runs) =>
      runs.toWarm(ambient + share * (this.meanLegTemperature - ambient)),
    );
  }

  /** After switching on from cold until the travel has come to 90 % of its steady value. */
  get timeToOpen(): number {
    return this.timed("time to open", "time to open", (runs) => runs.toTravel(0.9 * this.travel));
  }

  /** After switching off until less than 10 % of the open light passes; without a blade until the travel is back by 90 %. */
  get timeToClose(): number {
    return this.timed("time to close", "time to close", (runs) => {
      const { parts } = this.source;
      const closed = this.found === undefined ? 0.1 * this.travel : closedTravel(parts, this.travel);
      return closed === undefined
        ? { reason: "a tenth of the open light passes even at rest" }
        : runs.toReturn(closed, this.travel);
    });
  }

  private timed(name: string, absent: string, ask: (runs: TimedRuns) => Timed): number {
    return this.once(name, () => {
      const { timing } = this.source;
      if (timing === undefined) return Number.NaN;
      const found = ask(timing);
      if ("time" in found) return found.time;
      this.absent.set(absent, found.reason);
      return Number.NaN;
    });
  }

  get beams(): readonly BeamResult[] {
    return this.once("beams", () => {
      const { parts, steady } = this.source;
      return parts.device.beams.map((beam, index): BeamResult => {
        const { part, line, widths, length } = beam;
        const field = steady?.fields[parts.heat.branchOfBeam[index]!];
        const warm = parts.conditions.ambient + (this.source.uniform?.riseOf(part.name) ?? 0);
        return {
          name: part.name,
          line,
          widths,
          positions: field?.positions ?? Float64Array.of(0, length),
          temperatures: field?.temperatures ?? Float64Array.of(warm, warm),
          current: field?.current ?? 0,
          axialForce: this.forces === undefined ? Number.NaN : this.meanAxial(index),
          peakStress: this.forces?.[parts.frame.frameBeamOf[index]!]?.peakStress ?? Number.NaN,
        };
      });
    });
  }

  get findings(): readonly Finding[] {
    return this.once("findings", () => {
      const { motion, findings, several } = this.source;
      return [...findings, ...(isMotion(motion) ? [] : [motion.finding]), ...several()];
    });
  }

  get discretisationError(): number {
    return this.once("discretisation", () =>
      this.found === undefined ? Number.NaN : estimateDiscretisation(this.found.model, this.found.state).relative,
    );
  }

  motionAt(place: Place): PlaceMotion {
    const { mechanics } = this.source.parts;
    if (this.found === undefined) return { x: Number.NaN, y: Number.NaN, turn: Number.NaN };
    const site = mechanics.siteAt(place, "the point");
    const now = mechanics.motionOf(this.found, site);
    const rest = mechanics.motionOf(mechanics.rest, site);
    return { x: now.x - rest.x, y: now.y - rest.y, turn: now.turn - rest.turn };
  }

  temperatureAt(place: Place): number {
    const { steady, parts } = this.source;
    const found = parts.heat.warmthAt(place);
    if (found === undefined) throw new AssemblyError("the point lies on no part");
    return steady === undefined ? Number.NaN : temperatureThere(found, steady);
  }

  partNamed(name: string): PartResult {
    const { steady, parts, uniform } = this.source;
    const beam = this.beams.find((entry) => entry.name === name);
    const meanTemperature = steady === undefined ? Number.NaN : meanOfPart(parts, steady, name);
    const uniformly = parts.conditions.ambient + (uniform?.riseOf(name) ?? Number.NaN);
    return {
      meanTemperature: steady === undefined ? uniformly : meanTemperature,
      // an anchor is of one temperature throughout
      hottestTemperature:
        steady === undefined ? uniformly : Math.max(meanTemperature, hottestOf(parts, steady, name).temperature),
      current: beam?.current ?? Number.NaN,
      axialForce: beam?.axialForce ?? Number.NaN,
      peakStress: beam?.peakStress ?? Number.NaN,
      contactForce: this.found?.state.stops.find((stop) => stop.name === name)?.force ?? Number.NaN,
    };
  }

  get loadFactor(): number {
    return this.source.instability.loadFactor;
  }

  get criticalLoadFactor(): number {
    const { factor, reason } = this.source.instability.critical;
    if (reason !== undefined) this.absent.set("criticalLoadFactor", reason);
    return factor;
  }

  get statesOfBalance(): number {
    return this.source.instability.states.length;
  }

  get bucklingFactorOutOfPlane(): number {
    return this.once("bucklingFactorOutOfPlane", () => {
      const factor = this.small?.bucklingFactorOutOfPlane() ?? Number.NaN;
      if (factor !== Number.POSITIVE_INFINITY) return factor;
      this.absent.set("bucklingFactorOutOfPlane", "the forces in the beams do not buckle it out of its plane");
      return Number.NaN;
    });
  }

  holdingAt(place: Place): PlaceMotion {
    if (this.found === undefined) return { x: Number.NaN, y: Number.NaN, turn: Number.NaN };
    const { junction, offset } = this.source.parts.mechanics.siteAt(place, "the point");
    const [x, y, turn] = this.found.state.reactions.subarray(3 * junction);
    // the force on the junction turns about the point by less
    return { x: x!, y: y!, turn: turn! - offset[0] * y! + offset[1] * x! };
  }

  /** Small motion about this point. */
  get small(): SmallMotions | undefined {
    return this.once("small", () => this.found && new SmallMotions(this.source.parts, this.found, this.source.near?.small));
  }

  stiffnessAlongZ(place: Place): number {
    return this.small?.stiffnessAlongZ(place) ?? Number.NaN;
  }

  frequencies(count: number, family?: MotionFamily): readonly number[] {
    return this.small?.frequencies(count, family) ?? new Array<number>(count).fill(Number.NaN);
  }

  private get damped(): DampedModes {
    return this.once("damped", () => new DampedModes(this.source.parts, this.small));
  }

  /** A number, or NaN with its reason noted. */
  private orAbsent<T>(found: T | Refused, none: T): T {
    if (typeof found !== "object" || found === null || !("reason" in found)) return found as T;
    this.absent.set("gas damping", found.reason);
    return none;
  }

  qualityFactor(count: number): number {
    return this.orAbsent(this.damped.quality(count), Number.NaN);
  }

  accelerationNoise(bandwidth: number): number {
    return this.orAbsent(this.damped.accelerationNoise(bandwidth), Number.NaN);
  }

  thermalMotionAt(place: Place, axis: "x" | "y" | "z"): number {
    const stiffness = axis === "z" ? this.stiffnessAlongZ(place) : this.stiffnessAt(place, axis === "x" ? 0 : Math.PI / 2);
    return thermalMotionOf(stiffness, this.source.parts.conditions.ambient);
  }

  gasOnPlate(plate: string, at: { readonly frequency: number; readonly axis: "x" | "y" | "z" }): FilmForce {
    return this.orAbsent(this.damped.onPlate(plate, at), { damping: Number.NaN, stiffness: Number.NaN });
  }

  underAcceleration(change: readonly [number, number, number], place: Place): PlaceMotion & { readonly z: number } {
    return this.small?.underAcceleration(change, place) ?? { x: Number.NaN, y: Number.NaN, z: Number.NaN, turn: Number.NaN };
  }

  plateUnderAcceleration(change: readonly [number, number, number], plate: string): ShockMotion {
    const none = { x: Number.NaN, y: Number.NaN, z: Number.NaN, turn: Number.NaN };
    return this.small?.plateUnderAcceleration(change, plate) ?? none;
  }

  get light(): { readonly here: number; readonly atRest: number; readonly open: number } {
    return this.once("light", () => {
      const { parts } = this.source;
      const setup = parts.device.drawing.light;
      if (setup === undefined || this.found === undefined) return { here: Number.NaN, atRest: Number.NaN, open: Number.NaN };
      const model = createLightModel(parts, setup);
      const { mechanics } = parts;
      const site = mechanics.siteAt(model.slab.centre, "the blade");
      return {
        here: model.transmittedAt(mechanics.motionOf(this.found, site)),
        atRest: model.transmittedAt(mechanics.motionOf(mechanics.rest, site)),
        open: model.open,
      };
    });
  }

  get restart(): RestartState {
    return { steady: this.source.steady, motion: this.found, timing: this.source.timing };
  }
}
