/**
 * Everything a device model needs besides its parts: materials, thickness, gap, gas, temperatures. All in SI.
 */
import type { ExpansionLaw, Law } from "#base";
import type { Gas, Strength, TemperatureLimits } from "#materials";

/** Laws of the silicon along one direction of the plane. A law that is missing cannot be asked for. */
export interface BeamMaterial {
  readonly name: string;
  /** [W/(m K)] */
  readonly conductivity: Law;
  /** [ohm m] */
  readonly resistivity: Law;
  readonly expansion: ExpansionLaw;
  /** [Pa] */
  readonly youngsModulus: Law;
  readonly poissonRatio: number | undefined;
  /** [J/(kg K)] */
  readonly heatCapacity: Law | undefined;
  /** [kg/m^3] */
  readonly density: Law | undefined;
  readonly strength: Strength | undefined;
  readonly temperatureLimits: TemperatureLimits | undefined;
}

/** Shape factors already worked out, by cross-section. Owned by whoever asks many times, so that nothing hides between calls. */
export type ShapeFactorStore = Map<string, Float64Array>;

export interface Conditions {
  /** Laws along the direction at `angle` [rad] from the x axis of the die. */
  materialAlong(angle: number): BeamMaterial;
  /** [m] */
  readonly thickness: number;
  /** How far each silicon edge lies inside its target as built, [m]. */
  readonly inward: number;
  /** Free height under the silicon [m]; undefined where the text gives none. */
  readonly gap: number | undefined;
  /** Undefined in vacuum. */
  readonly gas: { readonly gas: Gas; readonly pressure: number } | undefined;
  /** Where shape factors of the gas loss are kept between models. */
  readonly shapeFactors: ShapeFactorStore;
  /** Factor on the computed gas loss. */
  readonly gasFactor: number;
  /** Temperature of the surroundings and of the heat sink, [K]. */
  readonly ambient: number;
  /** Strain left by bonding, positive in tension. */
  readonly bondStrain: number;
  /** Factor on the stress at beam roots for the sharpness of their corners; 1 where it is left out. */
  readonly notchFactor: number;
  /** Share of black-body radiation of all free faces; 0 where it is left out. */
  readonly emissivity: number;
  /** Glass under the anchors; undefined where the text gives none. */
  readonly glass: GlassPlate | undefined;
}

/** The glass that anchors stand on, as large as the die. */
export interface GlassPlate {
  /** [m] */
  readonly width: number;
  readonly height: number;
  readonly thickness: number;
  /** [W/(m K)] */
  readonly conductivity: number;
  /** [J/(m^3 K)] */
  readonly heatCapacity: number;
  /** Where the middle of the device stands from the middle of the glass, [m]. */
  readonly place: { readonly x: number; readonly y: number };
  /** Film coefficient at its base [W/(m^2 K)]; undefined on a chuck, which keeps the base at the temperature of the surroundings. */
  readonly baseFilm: number | undefined;
}
