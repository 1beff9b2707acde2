/**
 * The equations of a frame at one set of motions: unbalanced force, exact tangent, its factors and its inertia.
 *
 * Beams are condensed to their ends (chain.ts), hinges eliminated and ends carried to their rigid junctions (beam-ends.ts), junctions
 * solved in a skyline, closed stops kept as constraints (stop-constraints.ts). Main test: system.test.ts.
 */
import { factorSkylineInPlace, solveSkylineInto } from "#numerics";
import { elementSize, evaluateElementInto, forceAt, strainForceAt, tangentAt } from "./beam-element.ts";
import {
  eliminateHingesInto,
  forwardHingesInto,
  type HingePlace,
  hingeSize,
  recoverHingesInto,
  shiftBlockInto,
  takeOffProductInto,
} from "./beam-ends.ts";
import { addBodyForceInto, addBodyStiffnessInto } from "./body-force.ts";
import { type ChainPlace, condenseChainInto, eliminateChainInto, eliminatedSize, recoverChainInto } from "./chain.ts";
import type { LoadPath } from "./load-path.ts";
import type { FrameNumbers } from "./numbers.ts";
import type { RowNumbering } from "./row-numbering.ts";
import { StopConstraints } from "./stop-constraints.ts";
import type { FrameTopology } from "./topology.ts";

export class FrameSystem {
  readonly topology: FrameTopology;
  /** Flat motions, see topology.ts: the present state. */
  readonly motions: Float64Array;
  readonly constraints: StopConstraints;
  /** [nElements × elementSize] evaluated elements. */
  readonly elements: Float64Array;
  /** [nBeams × 4] offset of the start and end from the junction as it stands now, turned and lengthened. */
  readonly turned: Float64Array;
  /** Force of the acceleration on the beam nodes, flat; 0 where there is none. */
  private readonly massForces: Float64Array;
  private isPushed = false;
  /** Motions that a held change and growing bodies impose at factor change 1. */
  private readonly imposed: Float64Array;
  private readonly places: readonly ChainPlace[];
  private readonly eliminated: Float64Array;
  private readonly blocks: Float64Array;
  private readonly hinges: Float64Array;
  private readonly hingePlaces: readonly HingePlace[];
  private numbersNow: FrameNumbers | undefined;
  private rowsNow: RowNumbering | undefined;
  private pathNow: LoadPath | undefined;
  private factorNow = 0;

  constructor(topology: FrameTopology) {
    const { nBeams, nElements, nMotions, firstElement } = topology;
    this.topology = topology;
    this.motions = new Float64Array(nMotions);
    this.imposed = new Float64Array(nMotions);
    this.massForces = new Float64Array(nMotions);
    this.constraints = new StopConstraints(topology, this.motions);
    this.elements = new Float64Array(nElements * elementSize);
    this.turned = new Float64Array(4 * nBeams);
    let eliminatedAt = 0;
    this.places = Array.from({ length: nBeams }, (_, b) => {
      const place = { firstElement: firstElement[b]!, nElements: firstElement[b + 1]! - firstElement[b]!, eliminatedAt };
      eliminatedAt += (place.nElements - 1) * eliminatedSize;
      return place;
    });
    this.eliminated = new Float64Array(eliminatedAt);
    this.blocks = new Float64Array(36 * nBeams);
    this.hinges = new Float64Array(2 * nBeams * hingeSize);
    this.hingePlaces = Array.from({ length: nBeams }, (_, b) => ({
      blockAt: 36 * b,
      hingesAt: 2 * b * hingeSize,
      start: topology.hinged[2 * b]!,
      end: topology.hinged[2 * b + 1]!,
    }));
  }

  /** [nStops] 1 where a stop is closed. */
  get isClosed(): Uint8Array {
    return this.constraints.isClosed;
  }

  /** [nStops] 1 where a stop touches but others already say the same. */
  get isRedundant(): Uint8Array {
    return this.constraints.isRedundant;
  }

  /** Takes the sizes, the rows and the path that the following calls speak of. */
  use(numbers: FrameNumbers, rows: RowNumbering, path: LoadPath): void {
    this.numbersNow = numbers;
    this.rowsNow = rows;
    this.pathNow = path;
    this.constraints.use(numbers.network.stops ?? []);
    for (const input of numbers.inputs) input.motions = this.motions;
  }

  get numbers(): FrameNumbers {
    return this.numbersNow!;
  }

  get rows(): RowNumbering {
    return this.rowsNow!;
  }

  get path(): LoadPath {
    return this.pathNow!;
  }

  /** Evaluates all elements at the present motions. */
  evaluate(loadFactor: number): void {
    const { elements, numbers, path } = this;
    const { inputs } = numbers;
    this.factorNow = loadFactor;
    this.placeEnds();
    for (let e = 0; e < inputs.length; e++) {
      const input = inputs[e]!;
      input.freeStrain = path.strainStart[e]! + loadFactor * path.strainChange[e]!;
      input.youngsModulus = path.modulusStart[e]! + loadFactor * path.modulusChange[e]!;
      evaluateElementInto(elements, e * elementSize, input);
    }
    this.pushMasses();
    this.constraints.evaluate(this.turn);
  }

  /** Force of the acceleration on the beams' masses and its stiffness, which goes to the elements. */
  private pushMasses(): void {
    const { numbers, path, massForces, elements } = this;
    const bx = -path.accelerationStart[0] - this.factorNow * path.accelerationChange[0];
    const by = -path.accelerationStart[1] - this.factorNow * path.accelerationChange[1];
    if (this.isPushed) massForces.fill(0);
    this.isPushed = bx !== 0 || by !== 0;
    if (!this.isPushed) return;
    numbers.inputs.forEach((input, e) => {
      const mass = numbers.elementMasses[e]!;
      addBodyForceInto(massForces, input, { mass, bx, by });
      addBodyStiffnessInto(elements, e * elementSize, { input, mass, bx, by });
    });
  }

  /** A point of a body relative to its junction, turned and lengthened as it stands now. */
  readonly turn = (junction: number, ox: number, oy: number): readonly [number, number] => {
    const angle = this.motions[3 * junction + 2]!;
    const grown = 1 + this.bodyStrain(junction);
    const c = Math.cos(angle) * grown;
    const s = Math.sin(angle) * grown;
    return [c * ox - s * oy, s * ox + c * oy];
  };

  private bodyStrain(junction: number): number {
    return this.path.bodyStart[junction]! + this.factorNow * this.path.bodyChange[junction]!;
  }

  private placeEnds(): void {
    const { topology, motions, turned } = this;
    const { offsets } = this.numbers;
    for (let b = 0; b < topology.nBeams; b++) {
      for (let end = 0; end < 2; end++) {
        const j = end === 0 ? topology.from[b]! : topology.to[b]!;
        const node = end === 0 ? topology.nodesAt[b]! : topology.nodesAt[b + 1]! - 3;
        const ox = offsets[4 * b + 2 * end]!;
        const oy = offsets[4 * b + 2 * end + 1]!;
        const angle = motions[3 * j + 2]!;
        let x = motions[3 * j]!;
        let y = motions[3 * j + 1]!;
        if (ox !== 0 || oy !== 0) {
          const strain = this.bodyStrain(j);
          const s = Math.sin(angle);
          // cos - 1 without cancellation
          const half = Math.sin(0.5 * angle);
          const c1 = -2 * half * half;
          const rx = ox + c1 * ox - s * oy;
          const ry = oy + s * ox + c1 * oy;
          x += c1 * ox - s * oy + strain * rx;
          y += s * ox + c1 * oy + strain * ry;
          turned[4 * b + 2 * end] = rx + strain * rx;
          turned[4 * b + 2 * end + 1] = ry + strain * ry;
        } else {
          turned[4 * b + 2 * end] = 0;
          turned[4 * b + 2 * end + 1] = 0;
        }
        motions[node] = x;
        motions[node + 1] = y;
        if (topology.hinged[2 * b + end] === 0) motions[node + 2] = angle;
      }
    }
  }

  /** Fills x with the unbalanced force on every motion, and for closed stops with the way still to close. Call after evaluate. */
  residualInto(x: Float64Array): void {
    const { topology, motions, elements, numbers, path } = this;
    const { inputs, springs } = numbers;
    x.fill(0);
    for (let e = 0; e < inputs.length; e++) {
      const f = e * elementSize + forceAt;
      const i = inputs[e]!.start;
      for (let k = 0; k < 6; k++) x[i + k] = x[i + k]! - elements[f + k]!;
    }
    if (this.isPushed) for (let i = 3 * topology.nJunctions; i < topology.stopsAt; i++) x[i] = x[i]! + this.massForces[i]!;
    for (let i = 0; i < springs.length; i++) if (springs[i] !== 0) x[i] = x[i]! - springs[i]! * motions[i]!;
    for (const force of path.forces) this.addForce(x, force, force.start + this.factorNow * force.change);
    this.constraints.addForces(x);
  }

  /** Carries the forces on the beam ends in x to their junctions, as these stand now; hinges keep their moment. */
  gatherEnds(x: Float64Array): void {
    const { topology, turned } = this;
    for (let b = 0; b < topology.nBeams; b++) {
      for (let end = 0; end < 2; end++) {
        const j = 3 * (end === 0 ? topology.from[b]! : topology.to[b]!);
        const node = end === 0 ? topology.nodesAt[b]! : topology.nodesAt[b + 1]! - 3;
        const rx = x[node]!;
        const ry = x[node + 1]!;
        x[j] = x[j]! + rx;
        x[j + 1] = x[j + 1]! + ry;
        x[j + 2] = x[j + 2]! - turned[4 * b + 2 * end + 1]! * rx + turned[4 * b + 2 * end]! * ry;
        x[node] = 0;
        x[node + 1] = 0;
        if (topology.hinged[2 * b + end] === 1) continue;
        x[j + 2] = x[j + 2]! + x[node + 2]!;
        x[node + 2] = 0;
      }
    }
  }

  private addForce(x: Float64Array, force: { junction: number; motion: number; x: number; y: number }, value: number): void {
    const j = 3 * force.junction;
    x[j + force.motion] = x[j + force.motion]! + value;
    if (force.motion === 2 || (force.x === 0 && force.y === 0)) return;
    const [ox, oy] = this.turn(force.junction, force.x, force.y);
    x[j + 2] = x[j + 2]! + (force.motion === 0 ? -oy * value : ox * value);
  }

  /** Way left before a stop closes, [m]; negative where the body stands inside. */
  gapOf(s: number): number {
    return this.constraints.gapOf(s);
  }

  /** Fills x with the derivative of the unbalanced force with the load factor; what is imposed goes along (see solveInto). */
  slopeInto(x: Float64Array): void {
    const { elements, numbers, path } = this;
    const { inputs, elementMasses } = numbers;
    x.fill(0);
    for (let e = 0; e < inputs.length; e++) {
      const at = e * elementSize;
      const i = inputs[e]!.start;
      const strain = path.strainChange[e]!;
      const modulus = path.modulusChange[e]! / inputs[e]!.youngsModulus;
      if (strain === 0 && modulus === 0) continue;
      for (let k = 0; k < 6; k++) {
        x[i + k] = x[i + k]! - strain * elements[at + strainForceAt + k]! - modulus * elements[at + forceAt + k]!;
      }
    }
    const bx = -path.accelerationChange[0];
    const by = -path.accelerationChange[1];
    if (bx !== 0 || by !== 0) {
      for (let e = 0; e < inputs.length; e++) addBodyForceInto(x, inputs[e]!, { mass: elementMasses[e]!, bx, by });
    }
    for (const force of path.forces) {
      this.addForce(x, force, force.change);
      const growth = this.growth(force.junction, path.bodyChange);
      if (growth === 0 || force.motion === 2) continue;
      const [ox, oy] = this.turn(force.junction, force.x, force.y);
      const value = growth * (force.start + this.factorNow * force.change);
      const t = 3 * force.junction + 2;
      x[t] = x[t]! + (force.motion === 0 ? -oy * value : ox * value);
    }
    this.constraints.addSlope(x, (junction) => this.growth(junction, path.bodyChange));
    this.impose(x, path.heldChange, path.bodyChange);
  }

  private growth(junction: number, bodyChange: Float64Array): number {
    const change = bodyChange[junction]!;
    return change === 0 ? 0 : change / (1 + this.bodyStrain(junction));
  }

  /** Moves held motions by a change [3 nJunctions] with the next solution: takes the force that this costs off x. */
  imposeHeldBy(x: Float64Array, heldChange: Float64Array): void {
    this.impose(x, heldChange, undefined);
  }

  /** No motion is imposed with the next solution. */
  imposeNothing(): void {
    this.imposed.fill(0);
  }

  private impose(x: Float64Array, heldChange: Float64Array, bodyChange: Float64Array | undefined): void {
    const { topology, imposed, turned, elements, massForces } = this;
    const { rowOfMotion } = this.rows;
    imposed.fill(0);
    for (let i = 0; i < rowOfMotion.length; i++) if (rowOfMotion[i] === -1) imposed[i] = heldChange[i]!;
    for (let b = 0; b < topology.nBeams; b++) {
      for (let end = 0; end < 2; end++) {
        const j = 3 * (end === 0 ? topology.from[b]! : topology.to[b]!);
        const node = end === 0 ? topology.nodesAt[b]! : topology.nodesAt[b + 1]! - 3;
        const ox = turned[4 * b + 2 * end]!;
        const oy = turned[4 * b + 2 * end + 1]!;
        const growth = bodyChange === undefined ? 0 : this.growth(j / 3, bodyChange);
        const turn = imposed[j + 2]!;
        const dx = imposed[j]! - oy * turn + growth * ox;
        const dy = imposed[j + 1]! + ox * turn + growth * oy;
        const rotation = topology.hinged[2 * b + end] === 0 ? turn : 0;
        if (dx === 0 && dy === 0 && rotation === 0) continue;
        imposed[node] = dx;
        imposed[node + 1] = dy;
        imposed[node + 2] = rotation;
        const e = end === 0 ? topology.firstElement[b]! : topology.firstElement[b + 1]! - 1;
        const at = e * elementSize;
        takeOffProductInto(x, this.numbers.inputs[e]!.start, { elements, at: at + tangentAt, end, dx, dy, rotation });
        if (growth !== 0) {
          const f = at + forceAt + 3 * end;
          const fx = elements[f]! - massForces[node]!;
          const fy = elements[f + 1]! - massForces[node + 1]!;
          x[j + 2] = x[j + 2]! - growth * (ox * fy - oy * fx);
        }
      }
    }
    this.constraints.addImposed(x, imposed);
  }

  /** Factors the tangent at the evaluated motions. Returns its negative eigenvalues, or -1 where it is singular. */
  factor(): number {
    const inside = this.assemble();
    if (inside < 0) return -1;
    const { matrix, diagonal } = this.rows;
    for (let i = 0; i < diagonal.length; i++) diagonal[i] = matrix.values[matrix.start[i + 1]! - 1]!;
    const outside = factorSkylineInPlace(matrix);
    if (outside < 0) return -1;
    const ofStops = this.constraints.factor(this.rows, this.solveFree);
    if (ofStops !== undefined) return inside + outside + ofStops;
    this.evaluate(this.factorNow);
    return this.factor();
  }

  private assemble(): number {
    const { topology, numbers, path, elements, turned, blocks, massForces } = this;
    const { matrix, beamPlaces, rowOfMotion } = this.rows;
    const { values } = matrix;
    values.fill(0);
    let nNegative = 0;
    for (let b = 0; b < topology.nBeams; b++) {
      const at = 36 * b;
      const negative = condenseChainInto(blocks, at, { elements, eliminated: this.eliminated, place: this.places[b]! });
      if (negative < 0) return -1;
      const hinged = eliminateHingesInto(blocks, this.hinges, this.hingePlaces[b]!);
      if (hinged < 0) return -1;
      nNegative += negative + hinged;
      shiftBlockInto(blocks, at, { turned, beam: b });
      const places = 21 * b;
      let p = places;
      for (let i = 0; i < 6; i++) {
        for (let k = 0; k <= i; k++) {
          const place = beamPlaces[p++]!;
          if (place >= 0) values[place] = values[place]! + blocks[at + 6 * i + k]!;
        }
      }
      // the turned offset turns further with the junction: second derivative of the end's place
      for (let end = 0; end < 2; end++) {
        const j = end === 0 ? topology.from[b]! : topology.to[b]!;
        const e = end === 0 ? topology.firstElement[b]! : topology.firstElement[b + 1]! - 1;
        const f = e * elementSize + forceAt + 3 * end;
        const node = end === 0 ? topology.nodesAt[b]! : topology.nodesAt[b + 1]! - 3;
        const fx = elements[f]! - massForces[node]!;
        const fy = elements[f + 1]! - massForces[node + 1]!;
        this.addTurnStiffness(j, -turned[4 * b + 2 * end]! * fx - turned[4 * b + 2 * end + 1]! * fy);
      }
    }
    const { springs } = numbers;
    for (let i = 0; i < springs.length; i++) {
      const row = rowOfMotion[i]!;
      if (springs[i] === 0 || row < 0) continue;
      const place = matrix.start[row + 1]! - 1;
      values[place] = values[place]! + springs[i]!;
    }
    for (const force of path.forces) {
      if (force.motion === 2 || (force.x === 0 && force.y === 0)) continue;
      const arm = this.turn(force.junction, force.x, force.y)[force.motion]!;
      this.addTurnStiffness(force.junction, arm * (force.start + this.factorNow * force.change));
    }
    this.constraints.addStiffness(this.rows);
    return nNegative;
  }

  private addTurnStiffness(junction: number, value: number): void {
    const place = this.rows.junctionPlaces[6 * junction + 5]!;
    if (place >= 0) this.rows.matrix.values[place] = this.rows.matrix.values[place]! + value;
  }

  /**
   * Solves the factored tangent: x holds forces (and ways to close for closed stops) and then the change of all motions
   * (and of the stop forces), with what the last impose asked for added.
   */
  solveInto(x: Float64Array): void {
    const { imposed, constraints } = this;
    constraints.pushOn(x, this.rows);
    this.solveFree(x);
    constraints.holdBack(x);
    for (let i = 0; i < this.topology.stopsAt; i++) x[i] = x[i]! + imposed[i]!;
  }

  /** Solves without stops and without anything imposed; held motions get 0. */
  readonly solveFree = (x: Float64Array): void => {
    const { topology, eliminated, places, hinges } = this;
    const { rowOfMotion, side, matrix } = this.rows;
    for (let b = 0; b < topology.nBeams; b++) {
      const first = topology.nodesAt[b]!;
      const last = topology.nodesAt[b + 1]! - 3;
      eliminateChainInto(x, first, { eliminated, place: places[b]! });
      forwardHingesInto(x, hinges, { place: this.hingePlaces[b]!, first, last });
    }
    this.gatherEnds(x);
    const n3 = 3 * topology.nJunctions;
    for (let i = 0; i < n3; i++) if (rowOfMotion[i]! >= 0) side[rowOfMotion[i]!] = x[i]!;
    solveSkylineInto(side, matrix);
    for (let i = 0; i < n3; i++) x[i] = rowOfMotion[i]! >= 0 ? side[rowOfMotion[i]!]! : 0;
    for (let b = 0; b < topology.nBeams; b++) this.recoverBeam(x, b);
  };

  /**
   * Twice the strain energy of small junction motions x about rest, inner nodes in balance (they are written to x): from the elements'
   * own stretch and bending, so that a motion without strain gives nothing but rounding squared.
   */
  energyOf(x: Float64Array): number {
    const { topology } = this;
    const { inputs, springs } = this.numbers;
    for (let b = 0; b < topology.nBeams; b++) this.recoverBeam(x, b);
    let sum = 0;
    for (const { shape, youngsModulus, start: i } of inputs) {
      const { dx, dy, length } = shape;
      const stretch = ((x[i + 3]! - x[i]!) * dx + (x[i + 4]! - x[i + 1]!) * dy) / length;
      const turn = (dx * (x[i + 4]! - x[i + 1]!) - dy * (x[i + 3]! - x[i]!)) / (length * length);
      const t1 = x[i + 2]! - turn;
      const t2 = x[i + 5]! - turn;
      const bending = (4 * youngsModulus * shape.secondMoment) / length;
      sum += ((youngsModulus * shape.area) / length) * stretch * stretch + bending * (t1 * t1 + t1 * t2 + t2 * t2);
    }
    for (let i = 0; i < springs.length; i++) sum += springs[i]! * x[i]! * x[i]!;
    return sum;
  }

  private recoverBeam(x: Float64Array, b: number): void {
    const { topology, hinges, turned } = this;
    const first = topology.nodesAt[b]!;
    const last = topology.nodesAt[b + 1]! - 3;
    for (let end = 0; end < 2; end++) {
      const j = 3 * (end === 0 ? topology.from[b]! : topology.to[b]!);
      const node = end === 0 ? first : last;
      const turn = x[j + 2]!;
      x[node] = x[j]! - turned[4 * b + 2 * end + 1]! * turn;
      x[node + 1] = x[j + 1]! + turned[4 * b + 2 * end]! * turn;
      if (topology.hinged[2 * b + end] === 0) x[node + 2] = turn;
    }
    recoverHingesInto(x, hinges, { place: this.hingePlaces[b]!, first, last });
    recoverChainInto(x, first, { eliminated: this.eliminated, place: this.places[b]! });
  }
}
