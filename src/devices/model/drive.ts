/** What drives a device, and what pushes on it, in one operating case. All in SI. */
import type { ElectricSource } from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Place } from "../drawing/part.ts";

export type DriveCase =
  | { readonly kind: "pads"; readonly voltage: number; readonly potentials: Potentials }
  | {
      readonly kind: "supply";
      readonly voltage: number;
      /** Series resistor between supply and pads, [ohm]. */
      readonly resistance: number;
      /** [A] */
      readonly currentLimit: number | undefined;
      readonly potentials: Potentials;
    }
  | { readonly kind: "current"; readonly current: number; readonly potentials: Potentials }
  /** Idealised: parts warmer than ambient by so much, [K], without any current. */
  | { readonly kind: "uniform rise"; readonly warmth: UniformWarmth }
  /** Idealised: parts want to lengthen by a strain. */
  | { readonly kind: "uniform strain"; readonly warmth: UniformWarmth };

/** A drive that feeds current. */
export type Fed = Extract<DriveCase, { readonly kind: "pads" | "supply" | "current" }>;

/** Potentials of further nets against "minus", by name, [V]. A net that is not named floats. */
export type Potentials = ReadonlyMap<string, number>;

/** One value for all parts, and others for parts by name. */
export interface UniformWarmth {
  readonly everywhere: number;
  readonly parts: ReadonlyMap<string, number>;
}

export const noPotentials: Potentials = new Map();

/** What acts on places of the device. */
export interface Loads {
  /** Force against the travel on the output point, [N]. */
  readonly againstTravel: number;
  readonly forces: readonly { readonly at: Place; readonly x: number; readonly y: number; readonly turn: number }[];
  /** Motions of places held where they are put, from the unstrained place [m], [rad]. */
  readonly held: readonly { readonly at: Place; readonly motion: "x" | "y" | "turn"; readonly value: number }[];
  /** Of the die, in its plane, [m/s^2]. */
  readonly acceleration: readonly [x: number, y: number];
}

export const noLoads: Loads = { againstTravel: 0, forces: [], held: [], acceleration: [0, 0] };

/** Sources of a drive, the one that feeds the device first. Throws AssemblyError where a net is missing. */
export function sourcesOf(drive: Fed, nets: readonly string[], wired: ReadonlySet<string>): ElectricSource[] {
  const terminal = (net: string): number => {
    if (!wired.has(net)) throw new AssemblyError(`no anchor is wired to "${net}"`);
    return nets.indexOf(net);
  };
  const [plus, minus] = [terminal("plus"), terminal("minus")];
  const rest = [...drive.potentials].map(
    ([net, voltage]): ElectricSource => ({ kind: "voltage", voltage, seriesResistance: 0, plus: terminal(net), minus }),
  );
  switch (drive.kind) {
    case "pads":
      return [{ kind: "voltage", voltage: drive.voltage, seriesResistance: 0, plus, minus }, ...rest];
    case "supply":
      return [
        {
          kind: "voltage",
          voltage: drive.voltage,
          seriesResistance: drive.resistance,
          ...(drive.currentLimit !== undefined && { currentLimit: drive.currentLimit }),
          plus,
          minus,
        },
        ...rest,
      ];
    case "current":
      return [{ kind: "current", current: drive.current, plus, minus }, ...rest];
  }
}
