/**
 * The equations of a whole frame on one layout: residual, exact tangent, its factors, and solutions with them.
 *
 * Unknowns and their order are those of frame-layout.ts. Rows: heat that leaves each temperature, the voltage along each branch,
 * Kirchhoff's law at each electric node, the characteristic of each source. Cost is linear in the branches but for what the skeleton
 * fills in. Main tests: electro-thermal-theory.test.ts, and the tangent against differences in frame-equations.test.ts.
 */
import { exchangeEnds } from "./branch-state.ts";
import {
  condenseElement,
  condenseRightSide,
  type ElementInput,
  type ElementOutput,
  evaluateElement,
  recoverInterior,
  type StageStorage,
  tangentSize,
} from "./element-equations.ts";
import { elementWidth, type FrameLayout, layoutWithValuesOf } from "./frame-layout.ts";
import type { HeatExchange } from "./heat-exchange.ts";
import { type ElectricSource, type ElectroThermalBranch, type ElectroThermalNetwork, numberAlong } from "./network.ts";
import { lobattoNodes, lobattoWeights, nInterior, nNodes } from "./reference-element.ts";
import { type Curve, sampledLaw } from "./sampled-law.ts";
import { createSparseFactors, factorSparse, type SparseFactors, solveSparseInto } from "./sparse-factors.ts";

export interface FrameEquations {
  readonly network: ElectroThermalNetwork;
  readonly layout: FrameLayout;
  readonly elements: readonly ElementInput[];
  /** [nElements x tangentSize] */
  readonly tangents: readonly Float64Array[];
  readonly pivots: readonly Int32Array[];
  readonly factors: SparseFactors;
  /** By entries; heat capacities [J/K] at the last tangent. */
  readonly capacities: Float64Array;
  /** By skeleton rows. */
  readonly skeleton: Float64Array;
}

/** How the frame is driven at the moment. */
export interface Drive {
  /** A voltage source at its limit is given as the current source that it then is. */
  readonly sources: readonly ElectricSource[];
  /** Factor on every source. */
  readonly fraction: number;
  readonly storage?: StageStorage;
}

/** Heat that leaves the frame as assembled [W]; what flows into held junctions stands in the residual. */
export interface HeatTally {
  readonly sideLoss: number;
  readonly sinkHeat: number;
  readonly lumpedHeat: number;
  readonly leadPower: number;
}

/** Which laws are sampled before they are read. */
interface Reading {
  readonly materials: boolean;
  readonly losses: boolean;
}

/**
 * Laws of the branches as the elements read them. Those of materials are sampled, for many branches share them; those of losses only
 * where many steps in time will read them.
 */
function curveReader(reading: Reading) {
  const read = (law: Curve): Curve => (reading.materials ? sampledLaw(law) : law);
  const losses = new Map<HeatExchange, Curve>();
  const lossCurve = (exchange: HeatExchange): Curve => {
    const made = losses.get(exchange) ?? {
      at: (T: number) => exchange.lossAt(T),
      slopeAt: (T: number) => exchange.lossSlopeAt(T),
    };
    losses.set(exchange, made);
    return reading.losses ? sampledLaw(made) : made;
  };
  return (branch: ElectroThermalBranch): Pick<ElementInput, "conductivity" | "resistivity" | "heatCapacity" | "loss"> => {
    const { thermalConductivity, resistivity, heatCapacity } = branch;
    const ends = exchangeEnds(branch);
    return {
      conductivity: read(thermalConductivity),
      resistivity: resistivity === undefined ? undefined : read(resistivity),
      heatCapacity: heatCapacity === undefined ? undefined : read(heatCapacity),
      loss: ends === undefined ? undefined : { from: lossCurve(ends.from), to: lossCurve(ends.to) },
    };
  };
}

function createElements(
  network: ElectroThermalNetwork,
  options: { readonly layout: FrameLayout; readonly reading: Reading; readonly like?: FrameEquations },
): ElementInput[] {
  const { layout, reading, like } = options;
  const { firstElement, elementEntries, sizes } = layout;
  const curvesOf = curveReader(reading);
  return network.branches.flatMap((branch, b): ElementInput[] => {
    const share = 1 / sizes[b]!;
    const curves = curvesOf(branch);
    const twin = like?.network.branches[b];
    if (like !== undefined && twin?.length === branch.length && twin.area === branch.area) {
      // the same shape: its numbers stand
      return like.elements.slice(firstElement[b]!, firstElement[b + 1]!).map((element) => ({ ...element, ...curves }));
    }
    const half = 0.5 * branch.length * share;
    const made: ElementInput[] = [];
    for (let k = 0; k < sizes[b]!; k++) {
      const at = (firstElement[b]! + k) * elementWidth;
      const entries = elementEntries.subarray(at, at + elementWidth);
      made.push({ ...curves, ...elementSizes(branch.area, { half, k, share }), entries });
    }
    return made;
  });
}

/** Numbers of element k of a branch at its nodes. */
function elementSizes(
  area: ElectroThermalBranch["area"],
  at: { readonly half: number; readonly k: number; readonly share: number },
): Pick<ElementInput, "conductionScales" | "lengths" | "volumes" | "resistanceScales" | "places"> {
  const { half, k, share } = at;
  const sizes = {
    conductionScales: new Float64Array(nNodes),
    lengths: new Float64Array(nNodes),
    volumes: new Float64Array(nNodes),
    resistanceScales: new Float64Array(nNodes),
    places: new Float64Array(nNodes),
  };
  for (let i = 0; i < nNodes; i++) {
    const place = (k + 0.5 * (1 + lobattoNodes[i]!)) * share;
    const here = numberAlong(area, place);
    const length = half * lobattoWeights[i]!;
    sizes.places[i] = place;
    sizes.lengths[i] = length;
    sizes.conductionScales[i] = here / half;
    sizes.volumes[i] = here * length;
    sizes.resistanceScales[i] = length / here;
  }
  return sizes;
}

function roomFor(layout: FrameLayout, nElements: number): Pick<FrameEquations, "tangents" | "pivots" | "factors"> {
  const store = new Float64Array(nElements * tangentSize);
  return {
    tangents: Array.from({ length: nElements }, (_, e) => store.subarray(e * tangentSize, (e + 1) * tangentSize)),
    pivots: Array.from({ length: nElements }, () => new Int32Array(nInterior)),
    factors: createSparseFactors(layout.pattern),
  };
}

export function createEquations(network: ElectroThermalNetwork, layout: FrameLayout): FrameEquations {
  const elements = createElements(network, { layout, reading: { materials: true, losses: layout.storesHeat } });
  return {
    network,
    layout,
    elements,
    ...roomFor(layout, elements.length),
    capacities: new Float64Array(layout.nEntries),
    skeleton: new Float64Array(layout.nRows),
  };
}

/** The same equations with factors, tangents and capacities of their own, to keep them. */
export function withOwnFactors(equations: FrameEquations): FrameEquations {
  const { layout, elements } = equations;
  return { ...equations, ...roomFor(layout, elements.length), capacities: new Float64Array(layout.nEntries) };
}

/**
 * The equations of another network of the same topology. To evaluate its residual once, the laws of its materials are read directly,
 * which costs less than sampling them. Factors and room are those of `equations`.
 */
export function neighbourEquations(
  equations: FrameEquations,
  network: ElectroThermalNetwork,
  options: { readonly isReadOften: boolean } = { isReadOften: false },
): FrameEquations {
  const layout = layoutWithValuesOf(equations.layout, network);
  const reading = { materials: options.isReadOften, losses: false };
  return { ...equations, network, layout, elements: createElements(network, { layout, reading, like: equations }) };
}

function addTo(values: Float64Array, slot: number, value: number): void {
  if (slot >= 0) values[slot] = values[slot]! + value;
}

const corners = [0, nNodes - 1, nNodes] as const;

/** Puts the tangent of an element, condensed or whole, into the skeleton. */
function scatterElement(values: Float64Array, tangent: Float64Array, options: { slots: Int32Array; isOpen: boolean }): void {
  const { slots, isOpen } = options;
  if (isOpen) {
    for (let k = 0; k < tangentSize; k++) addTo(values, slots[k]!, tangent[k]!);
    return;
  }
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) addTo(values, slots[3 * i + j]!, tangent[corners[i]! * elementWidth + corners[j]!]!);
  }
}

/** A conductance between two entries, in residual and tangent. */
function addLink(
  equations: { residual: Float64Array; values: Float64Array | undefined },
  link: { readonly from: number; readonly to: number; readonly slots: Int32Array },
  flow: { readonly value: number; readonly conductance: number },
): void {
  const { residual, values } = equations;
  const { from, to, slots } = link;
  residual[from] = residual[from]! + flow.value;
  if (to >= 0) residual[to] = residual[to]! - flow.value;
  if (values === undefined) return;
  addTo(values, slots[0]!, flow.conductance);
  addTo(values, slots[1]!, -flow.conductance);
  addTo(values, slots[2]!, -flow.conductance);
  addTo(values, slots[3]!, flow.conductance);
}

/** Gas couplings between branches. */
function addCouplings(
  equations: FrameEquations,
  state: { x: Float64Array; residual: Float64Array; values: Float64Array | undefined },
): void {
  const { x, residual, values } = state;
  for (const { coupling, points, entriesA, entriesB, slots } of equations.layout.couplings) {
    const { exchange } = equations.network.couplings![coupling]!;
    const nA = entriesA.length;
    const nB = entriesB.length;
    const width = nA + nB;
    for (const { length, weightsA, weightsB } of points) {
      let Ta = 0;
      let Tb = 0;
      for (let i = 0; i < nA; i++) Ta += weightsA[i]! * x[entriesA[i]!]!;
      for (let i = 0; i < nB; i++) Tb += weightsB[i]! * x[entriesB[i]!]!;
      const flow = length * exchange.flowAt(Ta, Tb);
      for (let i = 0; i < nA; i++) residual[entriesA[i]!] = residual[entriesA[i]!]! + weightsA[i]! * flow;
      for (let i = 0; i < nB; i++) residual[entriesB[i]!] = residual[entriesB[i]!]! - weightsB[i]! * flow;
      if (values === undefined) continue;
      const onA = length * exchange.slopeAtA(Ta, Tb);
      const onB = length * exchange.slopeAtB(Ta, Tb);
      for (let i = 0; i < width; i++) {
        const out = i < nA ? weightsA[i]! : -weightsB[i - nA]!;
        for (let j = 0; j < nA; j++) addTo(values, slots[i * width + j]!, out * onA * weightsA[j]!);
        for (let j = 0; j < nB; j++) addTo(values, slots[i * width + nA + j]!, out * onB * weightsB[j]!);
      }
    }
  }
}

/** Sinks, ladders, lumped surfaces and lumped capacities. */
function addLumped(
  equations: FrameEquations,
  state: {
    x: Float64Array;
    residual: Float64Array;
    values: Float64Array | undefined;
    capacities: Float64Array | undefined;
    storage: StageStorage | undefined;
  },
): { sinkHeat: number; lumpedHeat: number } {
  const { network, layout } = equations;
  const { x, residual, values, capacities, storage } = state;
  const { junctionEntry, diagonalSlots, lumpedCapacities } = layout;
  let sinkHeat = 0;
  let lumpedHeat = 0;
  for (const link of layout.links) {
    const { from, to, conductance } = link;
    const value = conductance * (x[from]! - (to < 0 ? link.temperature : x[to]!));
    if (to < 0) sinkHeat += value;
    addLink({ residual, values }, link, { value, conductance });
  }
  network.junctions.forEach(({ exchange, temperature }, j) => {
    if (exchange === undefined || temperature !== undefined) return;
    const entry = junctionEntry + j;
    const loss = exchange.lossAt(x[entry]!);
    lumpedHeat += loss;
    residual[entry] = residual[entry]! + loss;
    if (values !== undefined) addTo(values, diagonalSlots[entry]!, exchange.lossSlopeAt(x[entry]!));
  });
  if (storage === undefined) return { sinkHeat, lumpedHeat };
  for (let k = 0; k < lumpedCapacities.length; k++) {
    const capacity = lumpedCapacities[k]!;
    if (capacity === 0) continue;
    const entry = junctionEntry + k;
    residual[entry] = residual[entry]! + storage.rate * capacity * (x[entry]! - storage.base[entry]!);
    if (capacities !== undefined) capacities[entry] = capacities[entry]! + capacity;
    if (values !== undefined) addTo(values, diagonalSlots[entry]!, storage.rate * capacity);
  }
  return { sinkHeat, lumpedHeat };
}

/** Voltages along branches, Kirchhoff's law and the sources, but for the resistances of the branches. */
function addElectric(
  equations: FrameEquations,
  state: { x: Float64Array; residual: Float64Array; values: Float64Array | undefined; drive: Drive },
): number {
  const { network, layout } = equations;
  const { x, residual, values, drive } = state;
  const { currentEntries, branchSlots, potentialEntry, sourceEntry, nodeOfJunction } = layout;
  network.branches.forEach(({ from, to }, b) => {
    const entry = currentEntries[b]!;
    if (entry < 0) return;
    const v0 = potentialEntry + nodeOfJunction[from]!;
    const v1 = potentialEntry + nodeOfJunction[to]!;
    residual[entry] = residual[entry]! + x[v0]! - x[v1]!;
    residual[v0] = residual[v0]! + x[entry]!;
    residual[v1] = residual[v1]! - x[entry]!;
    if (values === undefined) return;
    const slots = branchSlots[b]!;
    addTo(values, slots[0]!, 1);
    addTo(values, slots[1]!, -1);
    addTo(values, slots[2]!, 1);
    addTo(values, slots[3]!, -1);
  });
  let leadPower = 0;
  for (const lead of layout.leads) {
    const drop = x[lead.from]! - x[lead.to]!;
    leadPower += lead.conductance * drop * drop;
    addLink({ residual, values }, lead, { value: lead.conductance * drop, conductance: lead.conductance });
  }
  drive.sources.forEach((source, s) => {
    const entry = sourceEntry + s;
    const plus = potentialEntry + source.plus;
    const minus = potentialEntry + source.minus;
    const current = x[entry]!;
    residual[plus] = residual[plus]! - current;
    residual[minus] = residual[minus]! + current;
    residual[entry] =
      source.kind === "voltage"
        ? x[plus]! - x[minus]! + source.seriesResistance * current - drive.fraction * source.voltage
        : current - drive.fraction * source.current;
    if (values === undefined) return;
    const slots = layout.sourceSlots[s]!;
    const isVoltage = source.kind === "voltage";
    // (plus, i), (minus, i) and the source's own row: its columns are plus, minus, i
    addTo(values, slots[2]!, -1);
    addTo(values, slots[5]!, 1);
    addTo(values, slots[6]!, isVoltage ? 1 : 0);
    addTo(values, slots[7]!, isVoltage ? -1 : 0);
    addTo(values, slots[8]!, isVoltage ? source.seriesResistance : 1);
  });
  return leadPower;
}

/** Residual of all equations at `x`, by entries. In the entry of a held junction: heat that flows from it into the frame [W]. */
export function evaluateResidualInto(
  residual: Float64Array,
  equations: FrameEquations,
  options: { readonly x: Float64Array; readonly drive: Drive },
): HeatTally {
  return evaluate(residual, equations, { ...options, capacities: undefined, isTangent: false }).tally;
}

/** Heat that leaves each temperature [W] and what the other equations lack, and the heat capacities [J/K] at `x`, all by entries. */
export function evaluateFlowsInto(
  flows: Float64Array,
  equations: FrameEquations,
  options: { readonly x: Float64Array; readonly sources: readonly ElectricSource[]; readonly capacities: Float64Array },
): HeatTally {
  const { x, sources, capacities } = options;
  const drive: Drive = { sources, fraction: 1, storage: { rate: 0, base: x } };
  return evaluate(flows, equations, { x, drive, capacities, isTangent: false }).tally;
}

/**
 * Residual as `evaluateResidualInto`, and the tangent, condensed and factored. The sign is that of the determinant, 0 where singular.
 */
export function linearise(
  residual: Float64Array,
  equations: FrameEquations,
  options: { readonly x: Float64Array; readonly drive: Drive },
): { readonly tally: HeatTally; readonly sign: number } {
  const { tally, sign } = evaluate(residual, equations, { ...options, capacities: equations.capacities, isTangent: true });
  return { tally, sign: sign === 0 ? 0 : sign * factorSparse(equations.factors) };
}

function evaluate(
  residual: Float64Array,
  equations: FrameEquations,
  options: {
    readonly x: Float64Array;
    readonly drive: Drive;
    readonly capacities: Float64Array | undefined;
    readonly isTangent: boolean;
  },
): { tally: HeatTally; sign: number } {
  const { layout, elements, tangents, pivots, factors } = equations;
  const { x, drive, capacities, isTangent } = options;
  const { storage } = drive;
  residual.fill(0);
  const values = isTangent ? factors.values : undefined;
  values?.fill(0);
  capacities?.fill(0);
  let sign = 1;
  let sideLoss = 0;
  for (let e = 0; e < elements.length; e++) {
    const tangent = isTangent ? tangents[e]! : undefined;
    const output: ElementOutput = { residual, tangent, capacities, sideLoss: 0 };
    evaluateElement(output, elements[e]!, { x, storage });
    sideLoss += output.sideLoss;
    if (values === undefined || tangent === undefined) continue;
    const isOpen = layout.isOpen[e] === 1;
    if (!isOpen) sign *= condenseElement(tangent, pivots[e]!);
    scatterElement(values, tangent, { slots: layout.elementSlots[e]!, isOpen });
  }
  if (layout.couplings.length > 0) addCouplings(equations, { x, residual, values });
  const lumped = addLumped(equations, { x, residual, values, capacities, storage });
  const leadPower = addElectric(equations, { x, residual, values, drive });
  return { tally: { sideLoss, ...lumped, leadPower }, sign };
}

/** Replaces the right-hand side `x` (by entries) by the solution with the last factors; held entries become 0. */
export function solveFrameInto(x: Float64Array, equations: FrameEquations): void {
  const { layout, elements, tangents, pivots, factors, skeleton } = equations;
  const { rowOfEntry, isOpen } = layout;
  for (let e = 0; e < elements.length; e++) {
    if (isOpen[e] === 0) condenseRightSide(x, elements[e]!.entries, { tangent: tangents[e]!, pivots: pivots[e]! });
  }
  for (let entry = 0; entry < x.length; entry++) {
    const row = rowOfEntry[entry]!;
    if (row >= 0) skeleton[row] = x[entry]!;
  }
  solveSparseInto(skeleton, factors);
  for (let entry = 0; entry < x.length; entry++) {
    const row = rowOfEntry[entry]!;
    if (row >= 0) x[entry] = skeleton[row]!;
    else if (row === -1) x[entry] = 0;
  }
  for (let e = 0; e < elements.length; e++) {
    if (isOpen[e] === 0) recoverInterior(x, elements[e]!.entries, tangents[e]!);
  }
}

/** Derivative of the residual with respect to the fraction of the drive, by entries. */
export function driveSlopeInto(slope: Float64Array, layout: FrameLayout, sources: readonly ElectricSource[]): void {
  slope.fill(0);
  sources.forEach((source, s) => {
    slope[layout.sourceEntry + s] = source.kind === "voltage" ? -source.voltage : -source.current;
  });
}

/** Sign of the determinant of a frame without current, which is that of every thermally stable state. */
export function coldSign(equations: FrameEquations, sources: readonly ElectricSource[]): number {
  const { layout, factors } = equations;
  const { values } = factors;
  values.fill(0);
  // At zero current heat and current are apart: the heat part is positive, the electric part has the sign of any resistances.
  for (let entry = 0; entry < layout.potentialEntry; entry++)
    addTo(values, layout.diagonalSlots[entry]!, entry < layout.nTemperatures ? 1 : -1);
  addElectric(equations, {
    x: new Float64Array(layout.nEntries),
    residual: new Float64Array(layout.nEntries),
    values,
    drive: { sources, fraction: 0 },
  });
  return factorSparse(factors);
}
