/**
 * What the gas takes from the motion of a device: damping and springs of its plates and beams, and of its modes.
 *
 * Plates: squeezed film to the glass for z and tilts, leaking through slits and holes, at real edges (lengthened film) and in rarefied gas;
 * sliding film below and free face above for motion in the plane. Beams: a film where the gap is below a quarter of their width, else the
 * drag of a cylinder of the same perimeter, the larger of that at the wall and that in free gas. Modes: both summed over the mode shape.
 * Validity: small motion; gas at the temperature of the surroundings; sides that face each other,
 * and the edges of plates that slide, are left out. Refused where a law does not reach, where a plate bends much in a mode, and where the
 * film is a spring that would move the resonance. Error: 10 to 20 % for plates, a third for beams.
 * Main test: test/verification/gas-damping.test.ts.
 */
import { gasDensity, meanFreePath } from "#materials";
import {
  compressibleSqueezeFilm,
  cylinderAtWallDrag,
  cylinderDrag,
  effectiveFilmViscosity,
  type FilmForce,
  freeFaceDamping,
  knudsenNumber,
  leakyFilmDamping,
  lengthenedFilm,
  type Mode,
  type PlateOpenings,
  penetrationDepth,
  type ShearedGas,
  slidingFilmDamping,
  slidingSlipFactor,
  squeezeFilmDamping,
  tiltingFilm,
} from "#physics";
import type { BuiltBody } from "./built-device.ts";
import type { DeviceParts } from "./device-parts.ts";
import { solidShares } from "./plate-spine.ts";

/** Damping of a plate that slides over the glass. */
export interface SlidingPlate {
  /** Along x or y, [N s/m]. */
  readonly damping: number;
  /** In the plane about its middle, [N m s/rad]. */
  readonly turning: number;
}

/** Forces of the gas on a plate that comes down on the glass or tilts. */
export interface SqueezingPlate {
  readonly alongZ: FilmForce;
  /** About its own x axis and its own y axis, [N m s/rad], [N m/rad]. */
  readonly aboutX: FilmForce;
  readonly aboutY: FilmForce;
}

type GasHere = ShearedGas & { readonly pressure: number; readonly path: number; readonly gap: number };

export interface Refused {
  readonly reason: string;
}

/** Part of the motion of a bending plate that may be other than rigid, root of the mean square. */
const mostBending = 0.3;
/** Spring of the gas that may be left out of a mode, as a part of its own. */
const largestSpring = 0.05;
/** Gap over width up to which what faces the glass is a film. */
const filmRatio = 0.25;

const vacuum: Refused = { reason: "in vacuum no gas damps it, and other losses are not modelled" };

export class GasDamping {
  constructor(private readonly parts: DeviceParts) {}

  /** Gas under the device that is shaken at a frequency [Hz]. */
  private gasAt(frequency: number): GasHere | Refused {
    const { gas, gap, ambient: T } = this.parts.conditions;
    if (gas === undefined) return vacuum;
    if (gap === undefined) return { reason: 'damping by the gas needs "gap under silicon" in the section process' };
    const state = { T, pressure: gas.pressure };
    return {
      viscosity: gas.gas.viscosity.at(T),
      density: gasDensity(gas.gas, state),
      angularFrequency: 2 * Math.PI * frequency,
      pressure: gas.pressure,
      path: meanFreePath(gas.gas, state),
      gap,
    };
  }

  private plateNamed(name: string): BuiltBody | undefined {
    return this.parts.device.bodies.find(({ part }) => part.kind === "plate" && part.name === name);
  }

  /** Of a plate that moves in its plane at a frequency [Hz]. */
  slidingOf(plate: string, frequency: number): SlidingPlate | Refused {
    return this.ofPlate(plate, frequency, (body, gas) => this.sliding(body, gas));
  }

  /** Of a plate that moves out of its plane at a frequency [Hz]. */
  squeezingOf(plate: string, frequency: number): SqueezingPlate | Refused {
    return this.ofPlate(plate, frequency, (body, gas) => this.squeezing(body, gas));
  }

  private ofPlate<T>(name: string, frequency: number, work: (body: BuiltBody, gas: GasHere) => T): T | Refused {
    const body = this.plateNamed(name);
    if (body === undefined) return { reason: `"${name}" is no plate` };
    const gas = this.gasAt(frequency);
    return "reason" in gas ? gas : refusing(() => work(body, gas));
  }

  private sliding(body: BuiltBody, gas: GasHere): SlidingPlate {
    const { width, height } = body.slab;
    const damping = slidingPerArea(gas) * width * height * solidShares(body).area;
    return { damping, turning: (damping * (width ** 2 + height ** 2)) / 12 };
  }

  private squeezing(body: BuiltBody, gas: GasHere): SqueezingPlate {
    const { width, height } = body.slab;
    const { gap, angularFrequency, pressure } = gas;
    const depth = penetrationDepth(gas);
    if (!(gap < depth))
      throw new RangeError(
        `Cannot take the gas under ${body.part.name} for a film: wanted a gap below the depth of viscous waves, ${depth} m, found ${gap} m`,
      );
    const film = lengthenedFilm({ length: width, width: height, gap, viscosity: this.filmViscosity(gap) });
    const across = { ...film, length: film.width, width: film.length };
    const openings = openingsOf(body, this.parts.conditions.thickness);
    if (openings === undefined) {
      const vibration = { angularFrequency, pressure };
      return {
        alongZ: compressibleSqueezeFilm(film, vibration),
        aboutX: tiltingFilm(across, { vibration }),
        aboutY: tiltingFilm(film, { vibration }),
      };
    }
    return {
      alongZ: { damping: leakyFilmDamping(film, openings), stiffness: 0 },
      aboutX: tiltingFilm(across, { openings }),
      aboutY: tiltingFilm(film, { openings }),
    };
  }

  private filmViscosity(gap: number): number {
    const { gas, ambient: T } = this.parts.conditions;
    return effectiveFilmViscosity(gas!.gas, { T, pressure: gas!.pressure, gap });
  }

  /** Damping of a mode [N s/m], in the scale of its motions. */
  onMode(mode: Mode): number | Refused {
    return refusing(() => {
      const gas = this.gasAt(mode.frequency);
      if ("reason" in gas) return gas;
      let [damping, stiffness] = [0, 0];
      for (const [spine, { body: index }] of this.parts.heat.spines.entries()) {
        const body = this.parts.device.bodies[index]!;
        const motion = this.plateMotion(mode, spine);
        if ("reason" in motion) return motion;
        if (mode.family === "in plane") {
          const sliding = this.sliding(body, gas);
          damping += sliding.damping * (motion.x ** 2 + motion.y ** 2) + sliding.turning * motion.turn ** 2;
          continue;
        }
        const squeezing = this.squeezing(body, gas);
        for (const kind of ["alongZ", "aboutX", "aboutY"] as const) {
          damping += squeezing[kind].damping * motion[kind] ** 2;
          stiffness += squeezing[kind].stiffness * motion[kind] ** 2;
        }
      }
      this.parts.frame.owners.forEach((owner, beam) => {
        if (owner.kind === "beam") damping += this.onBeam(mode, beam, gas);
      });
      if (stiffness > largestSpring * mode.modalMass * Math.abs(mode.eigenvalue))
        return { reason: "the gas film is a spring as well, which would move this resonance" };
      return damping;
    });
  }

  /** Motion of a plate in a mode: of its middle, and its tilts about its own axes. */
  private plateMotion(
    mode: Mode,
    spine: number,
  ): { x: number; y: number; turn: number; alongZ: number; aboutX: number; aboutY: number } | Refused {
    const { frame, heat, device } = this.parts;
    const { body: index, positions } = heat.spines[spine]!;
    const { slab, part } = device.bodies[index]!;
    const [c, s] = [Math.cos(slab.turn), Math.sin(slab.turn)];
    const junctions = frame.bodyOfJunction.flatMap((entry, j) => (entry?.spine === spine ? [{ j, node: entry.node }] : []));
    const weights = junctions.map(({ node }) => (node === undefined ? 1 : shareOfNode(positions, node)));
    const motionAt = (j: number): readonly [number, number, number] => {
      const m = mode.junctionMotions;
      return [m[3 * j]!, m[3 * j + 1]!, m[3 * j + 2]!];
    };
    const mean = [0, 0, 0];
    // motions of the middle of the plate as each junction alone would have them
    const seen = junctions.map(({ j }) => {
      const at = frame.network.junctions[j]!;
      const [ox, oy] = [slab.centre.x - at.x, slab.centre.y - at.y];
      const [a, b, turn] = motionAt(j);
      return mode.family === "in plane" ? [a - oy * turn, b + ox * turn, turn] : [a + oy * b - ox * turn, b, turn];
    });
    seen.forEach((own, i) => {
      own.forEach((value, k) => {
        mean[k] = mean[k]! + weights[i]! * value;
      });
    });
    // what the ends of the plate see of a turn
    const reach = Math.max(slab.width, slab.height) / 2;
    const size = (of: readonly number[]): number =>
      mode.family === "in plane"
        ? Math.hypot(of[0]!, of[1]!, reach * of[2]!)
        : Math.hypot(of[0]!, reach * of[1]!, reach * of[2]!);
    const spread = Math.sqrt(
      seen.reduce((sum, own, i) => sum + weights[i]! * size(own.map((value, k) => value - mean[k]!)) ** 2, 0),
    );
    if (spread > mostBending * size(mean))
      return { reason: `${part.name} bends too much in this mode for the laws of stiff plates` };
    const [p, q, r] = mean as [number, number, number];
    if (mode.family === "in plane") return { x: p, y: q, turn: r, alongZ: 0, aboutX: 0, aboutY: 0 };
    return { x: 0, y: 0, turn: 0, alongZ: p, aboutX: c * q + s * r, aboutY: c * r - s * q };
  }

  /** Part of the damping of a mode that one beam of the frame has. */
  private onBeam(mode: Mode, beam: number, gas: GasHere): number {
    const { nodes, widths, thickness } = this.parts.frame.network.beams[beam]!;
    const motions = mode.beamMotions[beam]!;
    let sum = 0;
    let drag = { alongAxis: 0, sideways: 0, alongZ: 0 };
    widths.forEach((width, e) => {
      if (e === 0 || width !== widths[e - 1]) drag = this.dragOf(width, thickness, gas);
      const [dx, dy] = [nodes[2 * e + 2]! - nodes[2 * e]!, nodes[2 * e + 3]! - nodes[2 * e + 1]!];
      const length = Math.hypot(dx, dy);
      const [c, q] = [dx / length, dy / length];
      const at = (node: number): readonly [number, number, number] => [
        motions[3 * node]!,
        motions[3 * node + 1]!,
        motions[3 * node + 2]!,
      ];
      const [a, b] = [at(e), at(e + 1)];
      if (mode.family === "out of plane") {
        // the slope along the beam of a turn about x and y
        const rise = (m: typeof a) => ({ value: m[0], slope: q * m[1] - c * m[2] });
        sum += drag.alongZ * squareOfCubic(rise(a), rise(b), length);
        return;
      }
      const aside = (m: typeof a) => ({ value: c * m[1] - q * m[0], slope: m[2] });
      const along = (m: typeof a) => c * m[0] + q * m[1];
      sum += drag.sideways * squareOfCubic(aside(a), aside(b), length);
      sum += (drag.alongAxis * length * (along(a) ** 2 + along(a) * along(b) + along(b) ** 2)) / 3;
    });
    return sum;
  }

  /** Per length of a beam, [N s/m^2]. */
  private dragOf(
    width: number,
    thickness: number,
    gas: GasHere,
  ): { readonly alongAxis: number; readonly sideways: number; readonly alongZ: number } {
    const { gap } = gas;
    const radius = (width + thickness) / Math.PI;
    const free = cylinderDrag(gas, { radius, meanFreePath: gas.path }).damping;
    if (gap <= filmRatio * width) {
      const sliding = width * slidingPerArea(gas);
      // a strip so long that its ends do not matter
      const long = 1e3 * width;
      const film = lengthenedFilm({ length: long, width, gap, viscosity: this.filmViscosity(gap) });
      const squeezed = squeezeFilmDamping({ ...film, length: long }) / long;
      return { alongAxis: sliding, sideways: Math.max(sliding, free), alongZ: Math.max(squeezed, free) };
    }
    // beyond the depth of viscous waves the glass is not felt; the law for slow gas falls below the free one there
    const wall = cylinderAtWallDrag({ radius, gap, viscosity: gas.viscosity });
    return {
      // along itself a long body meets half of what it meets sideways
      alongAxis: Math.max(wall.alongAxis, free / 2),
      sideways: Math.max(wall.alongWall, free),
      alongZ: Math.max(wall.towardsWall, free),
    };
  }
}

interface CubicEnd {
  readonly value: number;
  readonly slope: number;
}

/** Integral of the square of a cubic over a length, by its values and slopes at both ends. */
function squareOfCubic(a: CubicEnd, b: CubicEnd, length: number): number {
  const [p, q] = [length * a.slope, length * b.slope];
  const squares = 156 * (a.value ** 2 + b.value ** 2) + 4 * (p * p + q * q);
  const products = 54 * a.value * b.value + 22 * (a.value * p - b.value * q) + 13 * (b.value * p - a.value * q) - 3 * p * q;
  return (length / 420) * (squares + 2 * products);
}

/** Damping per area of a face that slides over the glass, with its free upper face [N s/m^3]. */
function slidingPerArea(gas: GasHere): number {
  return slidingFilmDamping(gas, gas.gap) * slidingSlipFactor(knudsenNumber(gas.gap, gas.path)) + freeFaceDamping(gas);
}

/** Laws of #physics refuse what they do not reach by a RangeError: its sentence is the reason. */
function refusing<T>(work: () => T): T | Refused {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { reason: error.message };
  }
}

/** Part of a spine that belongs to one of its nodes. */
function shareOfNode(positions: Float64Array, node: number): number {
  const last = positions.length - 1;
  const reach = positions[Math.min(last, node + 1)]! - positions[Math.max(0, node - 1)]!;
  return reach / 2 / (positions[last]! - positions[0]!);
}

/** Openings through a plate as the film sees them; square holes as round ones of the same area. */
function openingsOf({ slits, holes }: BuiltBody, thickness: number): PlateOpenings | undefined {
  if (slits !== undefined) return { kind: "slits", width: slits.width, period: slits.pitch, thickness };
  if (holes !== undefined)
    return { kind: "round holes", radius: holes.side / Math.sqrt(Math.PI), period: holes.pitch, thickness };
  return undefined;
}
