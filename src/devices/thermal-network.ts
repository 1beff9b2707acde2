/**
 * The electro-thermal network of a frame: nodes become junctions, beams become branches with their laws and gas loss.
 */
import {
  type ElectroThermalBranch,
  type ElectroThermalNetwork,
  type HeatExchange,
  linearExchange,
  type ThermalJunction,
} from "#physics";
import type { HeatLoss } from "./assembly.ts";
import type { BeamMaterial, Conditions } from "./conditions.ts";
import type { Frame, FrameBeam, FrameNode } from "./frame-builder.ts";
import { beamExchanges, plateExchange } from "./gas-loss.ts";

export interface BeamGeometry {
  /** [m] */
  readonly length: number;
  /** Direction from start to end, [rad]. */
  readonly angle: number;
}

export function geometryOf(frame: Frame, beam: FrameBeam): BeamGeometry {
  const from = frame.points[beam.from]!;
  const to = frame.points[beam.to]!;
  return { length: Math.hypot(to.x - from.x, to.y - from.y), angle: Math.atan2(to.y - from.y, to.x - from.x) };
}

/** Loss of a surface through a film: coefficient (of the wall temperature) times width. */
function filmExchange(
  film: { readonly at: (T: number) => number; readonly slopeAt: (T: number) => number },
  width: number,
  ambient: number,
): HeatExchange {
  return {
    lossAt: (T) => width * film.at(T) * (T - ambient),
    lossSlopeAt: (T) => width * (film.at(T) + film.slopeAt(T) * (T - ambient)),
    sinkTemperature: ambient,
  };
}

/** Gas or given loss of every beam per length; undefined where the sides are insulated. */
function exchangesOf(frame: Frame, heatLoss: HeatLoss, conditions: Conditions): (HeatExchange | undefined)[] {
  if (heatLoss === "none") return frame.beams.map(() => undefined);
  if (heatLoss === "gas") return beamExchanges(frame, conditions);
  const { perLength, film } = heatLoss;
  return frame.beams.map((beam) => {
    // links lie inside the shuttle, whose own underside is taken at its nodes
    if (beam.role === "link") return undefined;
    if (perLength !== undefined) return linearExchange(perLength, conditions.ambient);
    return film === undefined ? undefined : filmExchange(film, beam.width, conditions.ambient);
  });
}

function plateLoss(node: FrameNode, heatLoss: HeatLoss, conditions: Conditions): HeatExchange | undefined {
  if (node.plate === undefined || heatLoss === "none") return undefined;
  if (heatLoss === "gas") return plateExchange(node.plate, conditions);
  return heatLoss.film === undefined
    ? undefined
    : filmExchange(heatLoss.film, node.plate.width * node.plate.height * node.plate.share, conditions.ambient);
}

function junctionOf(node: FrameNode, heatLoss: HeatLoss, conditions: Conditions): ThermalJunction {
  const sinks = [
    ...(node.sinkResistance === undefined ? [] : [{ conductance: 1 / node.sinkResistance, temperature: conditions.ambient }]),
    ...(node.leak > 0 ? [{ conductance: node.leak, temperature: conditions.ambient }] : []),
  ];
  const exchange = plateLoss(node, heatLoss, conditions);
  return {
    ...(node.held && { temperature: conditions.ambient }),
    ...(sinks.length > 0 && { sinks }),
    ...(exchange !== undefined && { exchange }),
    ...(node.terminal !== undefined && { terminal: node.terminal }),
    ...(node.leadResistance > 0 && { leadResistance: node.leadResistance }),
  };
}

/** Heat capacity per volume as a law, where both of its factors are known. */
function heatCapacityPerVolume(material: BeamMaterial): ElectroThermalBranch["heatCapacity"] {
  const { heatCapacity, density } = material;
  if (heatCapacity === undefined || density === undefined) return undefined;
  return {
    ...heatCapacity,
    at: (T) => heatCapacity.at(T) * density.at(T),
    slopeAt: (T) => heatCapacity.slopeAt(T) * density.at(T) + heatCapacity.at(T) * density.slopeAt(T),
    unit: "J/(m^3 K)",
  };
}

export function thermalNetworkOf(frame: Frame, heatLoss: HeatLoss, conditions: Conditions): ElectroThermalNetwork {
  const exchanges = exchangesOf(frame, heatLoss, conditions);
  const branches = frame.beams.map((beam, index): ElectroThermalBranch => {
    const { length, angle } = geometryOf(frame, beam);
    const material = conditions.materialAlong(angle);
    const exchange = exchanges[index];
    const heatCapacity = heatCapacityPerVolume(material);
    return {
      from: frame.points[beam.from]!.node,
      to: frame.points[beam.to]!.node,
      length,
      area: beam.width * conditions.thickness,
      thermalConductivity: material.conductivity,
      resistivity: material.resistivity,
      ...(exchange !== undefined && { exchange }),
      ...(heatCapacity !== undefined && { heatCapacity }),
    };
  });
  const terminals = frame.nodes.flatMap((node) => node.terminal ?? []);
  return {
    junctions: frame.nodes.map((node) => junctionOf(node, heatLoss, conditions)),
    branches,
    nTerminals: Math.max(0, ...terminals) + 1,
  };
}
