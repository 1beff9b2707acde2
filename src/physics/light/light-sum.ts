/**
 * The light of all directions of a cone, summed up: path lengths of each slope times what the faces leave of the light.
 *
 * With u and v the direction cosines along y and x, Lambert's flux is cos(theta) dOmega = du dv. The slope dy/dz = tan(alpha) has
 * sin(alpha) = u / sqrt(1 - v²), and du dv = sqrt(1 - v²) d(sin alpha) dv: the slope alone decides on the path, v only on the
 * reflectances. In a cone of half-angle Theta, sin(alpha) = sin(Theta) sin(psi) and v = v_max sin(chi) take the roots out of the
 * ends of both integrals, v_max = sin(Theta) cos(psi) / cos(alpha). Derived here, no source. The integral over psi is cut at the kinks
 * of the path lengths, where Gauss rules then meet smooth integrands. Main test: light-through-slit-grids.test.ts.
 */
import { type Bars, type FaceShares, faceSharesInto } from "./direction-faces.ts";
import { fresnelReflectance } from "./fresnel.ts";
import { type GapSection, nKinds, PathLengths } from "./gap-walk.ts";
import type { NestedRule } from "./nested-rule.ts";
import type { ConeLight, SlitGridLight, SlitGrids } from "./slit-grids.ts";
import { kinkSlopes } from "./slope-kinks.ts";

export interface Effort {
  /** Over the slope, between two kinks. */
  readonly slopeRule: NestedRule;
  /** Over the directions of one slope, for cones up to 30 degrees and for wider ones. */
  readonly acrossRule: NestedRule;
  readonly wideAcrossRule: NestedRule;
  /** Panels that the slopes are cut into besides the kinks. */
  readonly nUniformPanels: number;
  readonly maxKinks: number;
  readonly maxTrips: number;
  /** Light below this share of a path's start is no longer followed. */
  readonly pathCut: number;
  /** The same for the edges whose kinks are looked for. */
  readonly kinkCut: number;
}

/** Integrates over the directions of the cone; all lengths of one period are summed with the weights of the directions. */
export class LightSum {
  private transmitted = 0;
  private direct = 0;
  private reflected = 0;
  private absorbed = 0;
  private lost = 0;
  /** What the poorer rules would have given for `transmitted` and for `total`. */
  private poorTransmitted = 0;
  private poorTotal = 0;
  private total = 0;
  private readonly paths: PathLengths;
  /** Sine of the half-angle of the cone. */
  private readonly coneSine: number;
  private readonly bars: Bars;
  /** Of the present slope's directions: faces in both states of polarisation, and weight. */
  private readonly states: readonly { readonly s: FaceShares; readonly p: FaceShares }[];
  private readonly acrossWeight: Float64Array;
  private readonly acrossRule: NestedRule;
  /** Weight of the present slope in the poorer rule over that in the better one. */
  private poorerSlope = 1;

  constructor(
    private readonly grids: SlitGrids,
    private readonly light: ConeLight,
    private readonly effort: Effort,
  ) {
    this.paths = new PathLengths(effort.maxTrips);
    this.coneSine = Math.sin(light.halfAngle);
    this.acrossRule = light.halfAngle <= widest ? effort.acrossRule : effort.wideAcrossRule;
    const { blade, thickness, absorption } = grids;
    this.bars = { index: blade, thickness, absorption };
    const nothing = (): FaceShares => ({ wall: 0, passes: 0, returns: 0 });
    this.states = Array.from(this.acrossRule.nodes, () => ({ s: nothing(), p: nothing() }));
    this.acrossWeight = new Float64Array(this.states.length);
  }

  shares(): SlitGridLight {
    const scale = 1 / (this.total * this.grids.pitch);
    return {
      transmitted: this.transmitted * scale,
      direct: this.direct * scale,
      reflected: this.reflected * scale,
      absorbed: this.absorbed * scale,
      errorEstimate:
        Math.abs(this.transmitted / this.total - this.poorTransmitted / this.poorTotal) / this.grids.pitch + this.lost * scale,
    };
  }

  /** Adds all light of one sense along y. The slope's angle has the sine coneSine × sin(psi), psi from 0 to pi/2. */
  addSense(section: GapSection): void {
    const { nodes, weights, poorWeights } = this.effort.slopeRule;
    const ends = this.panelEnds(section);
    for (let panel = 1; panel < ends.length; panel++) {
      const half = (ends[panel]! - ends[panel - 1]!) / 2;
      const middle = (ends[panel]! + ends[panel - 1]!) / 2;
      for (let i = 0; i < nodes.length; i++) {
        this.poorerSlope = poorWeights[i]! / weights[i]!;
        this.addSlope(section, middle + half * nodes[i]!, half * weights[i]!);
      }
    }
  }

  /** Ends of the panels in psi: the kinks and a few more, in order. */
  private panelEnds(section: GapSection): number[] {
    const { nUniformPanels, kinkCut, maxKinks } = this.effort;
    const { coneSine } = this;
    const steepest = fresnelReflectance(this.grids.blade, Math.cos(this.light.halfAngle));
    const level = fresnelReflectance(this.grids.blade, 1);
    const kept = this.grids.metalReflectance * Math.max(level.s, steepest.s);
    const kinks = kinkSlopes(section, {
      maxSlope: Math.tan(this.light.halfAngle),
      nTrips: tripsUntil(kinkCut, kept, 40),
      maxKinks,
      from: this.light.from,
    });
    const inner = kinks.map((slope) => Math.asin(Math.min(slope / Math.sqrt(1 + slope * slope) / coneSine, 1)));
    for (let i = 1; i < nUniformPanels; i++) inner.push(((Math.PI / 2) * i) / nUniformPanels);
    const ends = [0];
    for (const end of inner.sort((a, b) => a - b)) if (end > ends.at(-1)! + narrowest) ends.push(end);
    if (ends.at(-1)! > Math.PI / 2 - narrowest) ends.pop();
    ends.push(Math.PI / 2);
    return ends;
  }

  /** Adds one slope with its weight in psi, and all directions across (along x) that belong to it. */
  private addSlope(section: GapSection, psi: number, weight: number): void {
    const sine = this.coneSine * Math.sin(psi);
    const cosine = Math.sqrt(1 - sine * sine);
    const slope = sine / cosine;
    const kept = this.meetFaces(sine, (weight * Math.cos(psi) ** 2) / cosine, (this.coneSine * Math.cos(psi)) / cosine);
    const nTrips = tripsUntil(this.effort.pathCut, kept, this.effort.maxTrips);
    if (this.light.from === "blade") this.paths.walkFromBlade(section, slope, nTrips);
    else this.paths.walkFromMetal(section, slope, nTrips);
    for (let i = 0; i < this.states.length; i++) {
      const { s, p } = this.states[i]!;
      const half = this.acrossWeight[i]! / 2;
      const { transmitted, total } = this;
      if (this.light.from === "blade") {
        this.addFromBlade(s, half);
        this.addFromBlade(p, half);
      } else {
        this.addFromMetal(s, half);
        this.addFromMetal(p, half);
      }
      const poorer = (this.poorerSlope * this.acrossRule.poorWeights[i]!) / this.acrossRule.weights[i]!;
      this.poorTransmitted += poorer * (this.transmitted - transmitted);
      this.poorTotal += poorer * (this.total - total);
    }
  }

  /**
   * Reflectances for the directions of one slope, whose component along x is across × sin(chi), chi from 0 to pi/2.
   * Returns the largest share that outlives one trip in the gap.
   */
  private meetFaces(sine: number, weight: number, across: number): number {
    const { nodes, weights } = this.acrossRule;
    const slopeCosine = Math.sqrt(1 - sine * sine);
    let most = 0;
    for (let i = 0; i < nodes.length; i++) {
      const chi = (Math.PI / 4) * (1 + nodes[i]!);
      const x = across * Math.sin(chi);
      const flat = Math.sqrt(1 - x * x);
      const state = this.states[i]!;
      this.acrossWeight[i] = weight * weights[i]! * (Math.PI / 4) * Math.cos(chi) * flat;
      faceSharesInto(state, { y: flat * sine, z: flat * slopeCosine }, this.bars);
      most = Math.max(most, this.grids.metalReflectance * Math.max(state.s.returns, state.p.returns));
    }
    return most;
  }

  private addFromBlade(faces: FaceShares, weight: number): void {
    const { paths } = this;
    const metal = this.grids.metalReflectance;
    const { wall, passes, returns } = faces;
    const swallows = 1 - passes - returns;
    const early = wall ** paths.nWalls;
    const late = early * wall;
    const barTop = weight * paths.start[2]!;
    this.total += weight;
    this.reflected += barTop * returns;
    this.absorbed += barTop * swallows + weight * (paths.start[0]! * (1 - early) + paths.start[1]! * (1 - late));
    for (let kind = 0; kind < nKinds; kind++) {
      let power = weight * (kind === 0 ? early : kind === 1 ? late : passes);
      if (power === 0 || paths.start[kind] === 0) continue;
      if (kind === 0 && paths.nWalls === 0) this.direct += weight * paths.outBelow[0]!;
      let at = kind;
      for (let trip = 0; trip < paths.nTrips; trip++, at += nKinds) {
        this.transmitted += power * paths.outBelow[at]!;
        this.absorbed += power * paths.onMetal[at]! * (1 - metal);
        power *= metal;
        const [above, aboveLate, bars] = [paths.outAbove[at]!, paths.outAboveLate[at]!, paths.onBars[at]!];
        this.reflected += power * (above * early + aboveLate * late + bars * passes);
        this.absorbed += power * (above * (1 - early) + aboveLate * (1 - late) + bars * swallows);
        power *= returns;
      }
      this.lose(power * paths.onBars[at - nKinds]!);
    }
  }

  private addFromMetal(faces: FaceShares, weight: number): void {
    const { paths } = this;
    const metal = this.grids.metalReflectance;
    const { wall, passes, returns } = faces;
    const swallows = 1 - passes - returns;
    const early = wall ** paths.nWalls;
    const late = early * wall;
    const outside = weight * (this.grids.pitch - this.grids.fixedSlit);
    this.total += weight;
    this.reflected += outside * metal;
    this.absorbed += outside * (1 - metal);
    if (paths.nWalls === 0) this.direct += weight * paths.outAbove[0]!;
    let power = weight;
    let at = 0;
    for (let trip = 0; trip < paths.nTrips; trip++, at += nKinds) {
      const [above, aboveLate, bars] = [paths.outAbove[at]!, paths.outAboveLate[at]!, paths.onBars[at]!];
      this.transmitted += power * (above * early + aboveLate * late + bars * passes);
      this.absorbed += power * (above * (1 - early) + aboveLate * (1 - late) + bars * swallows);
      power *= returns;
      this.reflected += power * paths.outBelow[at]!;
      this.absorbed += power * paths.onMetal[at]! * (1 - metal);
      power *= metal;
    }
    this.lose(power * paths.onMetal[at - nKinds]!);
  }

  /** What is still under way when the walk ends is counted as absorbed, and as doubt. */
  private lose(power: number): void {
    this.absorbed += power;
    this.lost += power;
  }
}

/** Half-angle above which the directions of one slope need the longer rule [rad]. */
const widest = Math.PI / 6;

/** Panels narrower than this in psi are joined to their neighbour. */
const narrowest = 1e-9;

/** Trips until no more than the share `cut` is under way, if each keeps the share `kept`. */
function tripsUntil(cut: number, kept: number, most: number): number {
  if (kept >= 1) return most;
  if (kept <= cut) return 1;
  return Math.min(Math.ceil(Math.log(cut) / Math.log(kept)), most);
}
