/**
 * Where every unknown of a frame stands, and the sparse pattern of its equations.
 *
 * One vector holds everything: interior nodes of the elements, element boundaries, junctions, ladder nodes of sinks (all of them
 * temperatures), then branch currents, potentials, source currents. Interior nodes of an element meet nothing else and are condensed
 * ("closed") unless a gas coupling reaches them; the rest is the skeleton, solved sparsely. Held and grounded entries have no row.
 */
import { ladderFromFoster } from "./foster-chain.ts";
import { type CouplingPair, couplingPairs } from "./gas-coupling.ts";
import { type ChainSink, type ElectricSource, type ElectroThermalNetwork, steadyConductance } from "./network.ts";
import { degree, nInterior, nNodes } from "./reference-element.ts";
import { createSparsePattern, type SparsePattern, slotOf } from "./sparse-factors.ts";
import { createTopology } from "./topology.ts";

/** Entries of an element: its nodes, then the current of its branch. */
export const elementWidth = nNodes + 1;

/** A conductance between two temperatures, or from one to a held one. */
export interface HeatLink {
  readonly from: number;
  /** -1 for the held temperature. */
  readonly to: number;
  /** [W/K] */
  readonly conductance: number;
  /** [K], where `to` is -1. */
  readonly temperature: number;
  readonly slots: Int32Array;
}

export interface FrameLayout {
  /** Elements of each branch. */
  readonly sizes: readonly number[];
  readonly nElements: number;
  /** True for a layout made to follow the frame in time. */
  readonly storesHeat: boolean;
  /** First element of each branch; [nBranches + 1]. */
  readonly firstElement: Int32Array;
  /** [nElements x elementWidth]; the current is -1 where a branch carries none. */
  readonly elementEntries: Int32Array;
  /** [nElements] 1 where interior nodes stand in the skeleton. */
  readonly isOpen: Uint8Array;
  readonly nEntries: number;
  readonly nTemperatures: number;
  readonly junctionEntry: number;
  /** [nBranches] */
  readonly currentEntries: Int32Array;
  readonly potentialEntry: number;
  readonly sourceEntry: number;
  readonly nodeOfJunction: Int32Array;
  readonly nPotentials: number;
  /** Skeleton row of every entry: -1 held or grounded, -2 condensed. */
  readonly rowOfEntry: Int32Array;
  readonly nRows: number;
  readonly pattern: SparsePattern;
  /** Slots of each element's tangent: ends and current (3 x 3) where closed, all entries where open. */
  readonly elementSlots: readonly Int32Array[];
  /** [nBranches] slots of (current, V0), (current, V1), (V0, current), (V1, current). */
  readonly branchSlots: readonly Int32Array[];
  /** Slots of the diagonal of every entry; -1 where there is none. */
  readonly diagonalSlots: Int32Array;
  readonly links: readonly HeatLink[];
  /** Lumped capacity at junctions and ladder nodes [J/K], by entry from `junctionEntry` on. */
  readonly lumpedCapacities: Float64Array;
  /** Wiring resistances: electric entries, conductance [S], slots as links. */
  readonly leads: readonly {
    readonly from: number;
    readonly to: number;
    readonly conductance: number;
    readonly slots: Int32Array;
  }[];
  /** Per source: slots of (plus, i), (minus, i), (i, plus), (i, minus), (i, i). */
  readonly sourceSlots: readonly Int32Array[];
  readonly couplings: readonly (CouplingPair & {
    readonly entriesA: Int32Array;
    readonly entriesB: Int32Array;
    readonly slots: Int32Array;
  })[];
  /** Entries of each ladder, from the junction on, with their distance from it as part of the whole steady resistance. */
  readonly ladders: readonly {
    readonly junction: number;
    readonly temperature: number;
    readonly nodes: readonly { readonly entry: number; readonly part: number }[];
  }[];
}

interface SinkParts {
  readonly links: Omit<HeatLink, "slots">[];
  readonly capacities: Map<number, number>;
  readonly ladders: { junction: number; temperature: number; nodes: { entry: number; part: number }[] }[];
  readonly nLadderNodes: number;
}

/** Sinks as links between temperatures; chains as their ladder where heat is stored, as one resistance where not. */
function compileSinks(network: ElectroThermalNetwork, options: { junctionEntry: number; storesHeat: boolean }): SinkParts {
  const { junctionEntry, storesHeat } = options;
  const links: Omit<HeatLink, "slots">[] = [];
  const capacities = new Map<number, number>();
  const ladders: SinkParts["ladders"] = [];
  const addCapacity = (entry: number, value: number): void => {
    capacities.set(entry, (capacities.get(entry) ?? 0) + value);
  };
  let next = junctionEntry + network.junctions.length;
  network.junctions.forEach((junction, j) => {
    const entry = junctionEntry + j;
    if (junction.temperature !== undefined) return;
    if (junction.heatCapacity !== undefined) addCapacity(entry, junction.heatCapacity);
    for (const sink of junction.sinks ?? []) {
      const { temperature } = sink;
      const whole = 1 / steadyConductance(sink);
      if (!("chain" in sink) || !storesHeat) {
        links.push({ from: entry, to: -1, conductance: 1 / whole, temperature });
        continue;
      }
      const ladder = ladderFromFoster(sink.chain);
      const nodes: { entry: number; part: number }[] = [];
      let at = entry;
      let passed = 0;
      let resistance = ladder.entryResistance;
      for (let k = 0; k < ladder.capacities.length; k++) {
        if (resistance > 0) {
          links.push({ from: at, to: next, conductance: 1 / resistance, temperature });
          passed += resistance;
          at = next++;
          nodes.push({ entry: at, part: passed / whole });
        }
        addCapacity(at, ladder.capacities[k]!);
        resistance = 1 / ladder.conductances[k]!;
      }
      links.push({ from: at, to: -1, conductance: 1 / resistance, temperature });
      ladders.push({ junction: j, temperature, nodes });
    }
  });
  for (const { a, b, conductance } of network.links ?? [])
    links.push({ from: junctionEntry + a, to: junctionEntry + b, conductance, temperature: 0 });
  return { links, capacities, ladders, nLadderNodes: next - junctionEntry - network.junctions.length };
}

/** Wiring between terminals and junctions that do not share a node. */
function wiredLeads(
  network: ElectroThermalNetwork,
  options: { readonly nodeOfJunction: Int32Array; readonly potentialEntry: number },
): { from: number; to: number; conductance: number }[] {
  const { nodeOfJunction, potentialEntry } = options;
  return network.junctions.flatMap(({ terminal, leadResistance }, j) =>
    terminal !== undefined && nodeOfJunction[j] !== terminal
      ? [{ from: potentialEntry + nodeOfJunction[j]!, to: potentialEntry + terminal, conductance: 1 / leadResistance! }]
      : [],
  );
}

function lumpedInto(capacities: Float64Array, sinks: SinkParts, junctionEntry: number): Float64Array {
  for (const [entry, value] of sinks.capacities) capacities[entry - junctionEntry] = value;
  return capacities;
}

/** Slots of all pairs of rows that meet in one equation. */
function couple(pattern: SparsePattern, rows: readonly number[]): Int32Array {
  const slots = new Int32Array(rows.length * rows.length);
  for (let i = 0; i < rows.length; i++) {
    for (let j = 0; j < rows.length; j++) slots[i * rows.length + j] = slotOf(pattern, rows[i]!, rows[j]!);
  }
  return slots;
}

interface LayoutOptions {
  readonly sizes: readonly number[];
  readonly sources: readonly ElectricSource[];
  /** With it chains of sinks keep their inner temperatures. */
  readonly storesHeat: boolean;
}

/** All that the numbering and the pattern depend on; two networks that agree in it differ in numbers alone. */
function structureOf(network: ElectroThermalNetwork, options: LayoutOptions): string {
  const { sizes, sources, storesHeat } = options;
  const parts: (string | number)[] = [network.nTerminals, storesHeat ? "in time" : "steady", ...sizes];
  for (const { from, to, resistivity } of network.branches) parts.push(from, to, resistivity === undefined ? "n" : "c");
  for (const { temperature, terminal, leadResistance, sinks } of network.junctions) {
    parts.push(temperature === undefined ? "f" : "h", terminal ?? "n", (leadResistance ?? 0) > 0 ? "l" : "n");
    for (const sink of sinks ?? []) parts.push("chain" in sink && storesHeat ? chainStructure(sink.chain) : "s");
  }
  for (const { kind, plus, minus } of sources) parts.push(kind, plus, minus);
  for (const { a, b } of network.links ?? []) parts.push("link", a, b);
  for (const { a, b } of network.couplings ?? [])
    parts.push(a.branch, ...a.span, ...("junction" in b ? ["j", b.junction] : [b.branch, ...b.span]));
  return parts.join(" ");
}

/** A ladder has as many nodes as its chain has different time constants. */
function chainStructure(chain: ChainSink["chain"]): string {
  const { entryResistance, capacities } = ladderFromFoster(chain);
  return `${entryResistance > 0 ? "r" : "c"}${capacities.length}`;
}

/** Layouts of the last structures met: studies of sizes solve one structure thousands of times. */
const known = new Map<string, FrameLayout>();
const mostKnown = 32;

/** Lays out a network on meshes of `sizes` elements per branch. */
export function createLayout(network: ElectroThermalNetwork, options: LayoutOptions): FrameLayout {
  const structure = structureOf(network, options);
  const same = known.get(structure);
  if (same !== undefined) return layoutWithValuesOf(same, network);
  const made = numberUnknowns(network, options);
  if (known.size === mostKnown) known.delete(known.keys().next().value!);
  known.set(structure, made);
  return made;
}

function numberUnknowns(network: ElectroThermalNetwork, options: LayoutOptions): FrameLayout {
  const { sizes, sources, storesHeat } = options;
  const { junctions, branches } = network;
  const { nodeOfJunction, isGrounded, nNodes: nPotentials } = createTopology(network, sources);
  const firstElement = new Int32Array(branches.length + 1);
  for (let b = 0; b < branches.length; b++) firstElement[b + 1] = firstElement[b]! + sizes[b]!;
  const nElements = firstElement[branches.length]!;
  const boundaryEntry = nElements * nInterior;
  const junctionEntry = boundaryEntry + nElements - branches.length;
  const sinks = compileSinks(network, { junctionEntry, storesHeat });
  const nTemperatures = junctionEntry + junctions.length + sinks.nLadderNodes;
  const potentialEntry = nTemperatures + branches.length;
  const sourceEntry = potentialEntry + nPotentials;
  const nEntries = sourceEntry + sources.length;

  const currentEntries = Int32Array.from(branches, ({ resistivity }, b) => (resistivity === undefined ? -1 : nTemperatures + b));
  const elementEntries = new Int32Array(nElements * elementWidth);
  branches.forEach((branch, b) => {
    for (let e = firstElement[b]!; e < firstElement[b + 1]!; e++) {
      const at = e * elementWidth;
      elementEntries[at] = e === firstElement[b] ? junctionEntry + branch.from : boundaryEntry + e - 1 - b;
      for (let k = 0; k < nInterior; k++) elementEntries[at + 1 + k] = e * nInterior + k;
      elementEntries[at + degree] = e === firstElement[b + 1]! - 1 ? junctionEntry + branch.to : boundaryEntry + e - b;
      elementEntries[at + nNodes] = currentEntries[b]!;
    }
  });
  const entriesOf = (element: number): Int32Array =>
    elementEntries.subarray(element * elementWidth, element * elementWidth + nNodes);

  const isOpen = new Uint8Array(nElements);
  const pairs = couplingPairs(network, sizes).map((pair) => {
    const { a, b } = network.couplings![pair.coupling]!;
    const elementA = firstElement[a.branch]! + pair.elementA;
    isOpen[elementA] = 1;
    if ("junction" in b) return { ...pair, entriesA: entriesOf(elementA), entriesB: Int32Array.of(junctionEntry + b.junction) };
    const elementB = firstElement[b.branch]! + pair.elementB;
    isOpen[elementB] = 1;
    return { ...pair, entriesA: entriesOf(elementA), entriesB: entriesOf(elementB) };
  });

  const rowOfEntry = new Int32Array(nEntries);
  const ranks: number[] = [];
  const isHeld = (entry: number): boolean => {
    if (entry >= potentialEntry && entry < sourceEntry) return isGrounded[entry - potentialEntry] === 1;
    if (entry >= nTemperatures && entry < potentialEntry) return currentEntries[entry - nTemperatures]! < 0;
    const junction = entry - junctionEntry;
    return junction >= 0 && junction < junctions.length && junctions[junction]!.temperature !== undefined;
  };
  for (let entry = 0; entry < nEntries; entry++) {
    if (entry < boundaryEntry && isOpen[Math.floor(entry / nInterior)] === 0) rowOfEntry[entry] = -2;
    else if (isHeld(entry)) rowOfEntry[entry] = -1;
    else {
      rowOfEntry[entry] = ranks.length;
      // Currents first, which gives the potentials a diagonal; terminals and sources last. Temperatures and potentials lie between in any
      // order, so that a ladder of many branches is eliminated rung by rung.
      const isCurrent = entry >= nTemperatures && entry < potentialEntry;
      const isTail = entry >= potentialEntry && (entry < potentialEntry + network.nTerminals || entry >= sourceEntry);
      ranks.push(isTail ? 2 : isCurrent ? 0 : 1);
    }
  }
  const rowsOf = (entries: Iterable<number>): number[] =>
    Array.from(entries, (entry) => (entry < 0 ? -1 : Math.max(-1, rowOfEntry[entry]!)));

  const potentialOf = (junction: number): number => potentialEntry + nodeOfJunction[junction]!;
  const elementRows = Array.from({ length: nElements }, (_, e) => {
    const at = e * elementWidth;
    return isOpen[e] === 1
      ? rowsOf(elementEntries.subarray(at, at + elementWidth))
      : rowsOf([elementEntries[at]!, elementEntries[at + degree]!, elementEntries[at + nNodes]!]);
  });
  const branchRows = branches.map((branch, b) => rowsOf([currentEntries[b]!, potentialOf(branch.from), potentialOf(branch.to)]));
  const linkRows = sinks.links.map(({ from, to }) => rowsOf([from, to]));
  const wired = wiredLeads(network, { nodeOfJunction, potentialEntry });
  const leadRows = wired.map(({ from, to }) => rowsOf([from, to]));
  const sourceRows = sources.map((source, s) =>
    rowsOf([potentialEntry + source.plus, potentialEntry + source.minus, sourceEntry + s]),
  );
  const pairRows = pairs.map(({ entriesA, entriesB }) => rowsOf([...entriesA, ...entriesB]));
  const pattern = createSparsePattern(
    [...elementRows, ...branchRows.filter(([current]) => current! >= 0), ...linkRows, ...leadRows, ...sourceRows, ...pairRows],
    { rankOf: Int32Array.from(ranks), tailRank: 2 },
  );
  return {
    sizes,
    nElements,
    storesHeat,
    firstElement,
    elementEntries,
    isOpen,
    nEntries,
    nTemperatures,
    junctionEntry,
    currentEntries,
    potentialEntry,
    sourceEntry,
    nodeOfJunction,
    nPotentials,
    rowOfEntry,
    nRows: ranks.length,
    pattern,
    elementSlots: elementRows.map((rows) => couple(pattern, rows)),
    branchSlots: branchRows.map(([current, v0, v1]) =>
      Int32Array.of(
        slotOf(pattern, current!, v0!),
        slotOf(pattern, current!, v1!),
        slotOf(pattern, v0!, current!),
        slotOf(pattern, v1!, current!),
      ),
    ),
    diagonalSlots: Int32Array.from(rowOfEntry, (row) => slotOf(pattern, row, row)),
    links: sinks.links.map((link, k) => ({ ...link, slots: couple(pattern, linkRows[k]!) })),
    lumpedCapacities: lumpedInto(new Float64Array(nTemperatures - junctionEntry), sinks, junctionEntry),
    leads: wired.map((lead, k) => ({ ...lead, slots: couple(pattern, leadRows[k]!) })),
    sourceSlots: sourceRows.map((rows) => couple(pattern, rows)),
    couplings: pairs.map((pair, k) => ({ ...pair, slots: couple(pattern, pairRows[k]!) })),
    ladders: sinks.ladders,
  };
}

/** The layout with the conductances and facing stretches of another network of the same topology. */
export function layoutWithValuesOf(layout: FrameLayout, network: ElectroThermalNetwork): FrameLayout {
  const { junctionEntry, storesHeat, nodeOfJunction, potentialEntry, sizes } = layout;
  const sinks = compileSinks(network, { junctionEntry, storesHeat });
  const leads = wiredLeads(network, { nodeOfJunction, potentialEntry });
  const pairs = couplingPairs(network, sizes);
  const isSame =
    sinks.links.length === layout.links.length &&
    leads.length === layout.leads.length &&
    pairs.length === layout.couplings.length &&
    pairs.every(({ coupling, elementA, elementB }, k) => {
      const other = layout.couplings[k]!;
      return coupling === other.coupling && elementA === other.elementA && elementB === other.elementB;
    });
  if (!isSame) throw new RangeError("Cannot compare two networks: wanted the same sinks, wiring and facing elements in both");
  return {
    ...layout,
    links: sinks.links.map((link, k) => ({ ...link, slots: layout.links[k]!.slots })),
    lumpedCapacities: lumpedInto(new Float64Array(layout.lumpedCapacities.length), sinks, junctionEntry),
    leads: leads.map((lead, k) => ({ ...lead, slots: layout.leads[k]!.slots })),
    couplings: pairs.map(({ points }, k) => ({ ...layout.couplings[k]!, points })),
    ladders: sinks.ladders,
  };
}
