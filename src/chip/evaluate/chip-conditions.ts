/**
 * From the sections of a text to the conditions of a device model, on one side.
 *
 * THE RULE for sizes, written only here. Target: the value in the text. Plate: target moved out by the bias, once.
 * Built: plate moved in by the undercut. As drawn, built equals target, so only the doubt of the undercut moves an edge; as built, an
 * edge lies (undercut - bias) inside its target, with the best evidence for the undercut.
 */
import type { ExpansionLaw, Law, QuantityText } from "#base";
import type { BeamMaterial, Conditions, GlassPlate, ShapeFactorStore } from "#devices";
import {
  constantLaw,
  findGas,
  findMaterial,
  type Material,
  materialNames,
  type Strength,
  scaledLaw,
  siliconMaterial,
} from "#materials";
import { unknownWord } from "../brief/requirements.ts";
import type { Description, Sections } from "../description.ts";
import { placeOfPath } from "../text/find-node.ts";
import { expansionFromText, lawFromText } from "./own-law.ts";
import { EvaluationError, type Scope } from "./scope.ts";

type Process = Sections["process"];

/** Side of a die whose size is not stated, [m]: heat from an anchor hardly notices the edges of the glass. */
const unstatedDie = 5e-3;

/** What an operating case may change. */
export interface CaseSurroundings {
  readonly gas?: string;
  readonly temperature?: QuantityText;
}

/** How far silicon edges lie inside their targets as built, [m]. */
export function inwardOf(process: Process, scope: Scope): number {
  const undercut = process["undercut per edge"];
  const bias = process["bias per edge"];
  const lost = undercut === undefined ? 0 : scope.valueOf(undercut);
  if (scope.side === "built") return lost - (bias === undefined ? 0 : scope.valueOf(bias));
  if (undercut === undefined) return 0;
  const shift = scope.amountOf(undercut).sensitivities;
  // as drawn only the doubt counts: value minus its own middle
  return [...shift].reduce((sum, [cause, size]) => sum + size * scope.deviation(cause), 0);
}

const given = (note: string): { key: string; consulted: "given by the user" } => ({ key: note, consulted: "given by the user" });

function scaled(law: Law, factor: number): Law {
  return factor === 1 ? law : scaledLaw(law, { factor, relativeSpread: law.relativeSpread, source: law.source });
}

function scaledExpansion(law: ExpansionLaw, factor: number): ExpansionLaw {
  if (factor === 1) return law;
  return { ...scaled(law, factor), strainBetween: (from, to) => factor * law.strainBetween(from, to) };
}

class SiliconOfText {
  private readonly along = new Map<number, BeamMaterial>();
  private readonly own: ReadonlyMap<string, Material>;

  constructor(
    private readonly description: Description,
    private readonly scope: Scope,
  ) {
    this.own = new Map(
      [...(description.sections.materials ?? new Map())].map(([name, fields]) => [name, this.ownMaterial(name, fields)]),
    );
  }

  materialAlong(angle: number): BeamMaterial {
    // a beam and its mirror image have the same laws in a cubic crystal with a symmetric axis
    const key = Number(Math.abs(Math.atan(Math.tan(angle))).toFixed(6));
    let material = this.along.get(key);
    if (material === undefined) {
      material = this.makeMaterial(key);
      this.along.set(key, material);
    }
    return material;
  }

  private fail(path: readonly string[], message: string): never {
    throw new EvaluationError(message, placeOfPath(this.description.parsed, path));
  }

  private ownMaterial(
    name: string,
    fields: NonNullable<Sections["materials"]> extends ReadonlyMap<string, infer E> ? E : never,
  ): Material {
    const base = fields["based on"] === undefined ? undefined : findMaterial(fields["based on"]);
    if (fields["based on"] !== undefined && base === undefined) {
      this.fail(
        ["materials", name, "based on"],
        `Cannot read materials.${name}: ${unknownWord("a built-in material", fields["based on"], materialNames())}`,
      );
    }
    const { scope } = this;
    return {
      ...(base ?? { kind: "crystal" as const }),
      name,
      ...(fields.conductivity && { conductivity: lawFromText(fields.conductivity, scope) }),
      ...(fields.resistivity && { resistivity: lawFromText(fields.resistivity, scope) }),
      ...(fields.expansion && { expansion: expansionFromText(fields.expansion, scope) }),
      ...(fields["specific heat"] && { heatCapacity: lawFromText(fields["specific heat"], scope) }),
      ...(fields.density && { density: lawFromText(fields.density, scope) }),
      ...(fields["young modulus"] && { youngsModulus: lawFromText(fields["young modulus"], scope) }),
      ...(fields["poisson ratio"] && {
        poissonRatio: constantLaw(scope.valueOf(fields["poisson ratio"]), {
          unit: "1",
          range: { from: 0, to: 5000 },
          relativeSpread: 0,
          source: given("chip text"),
        }),
      }),
    };
  }

  /** Laws before the user's factors. */
  private published(angle: number): Material {
    const { silicon } = this.description.sections.process;
    const path = ["process", "silicon"];
    if (silicon.material !== undefined) {
      const named = this.own.get(silicon.material) ?? findMaterial(silicon.material);
      if (named === undefined)
        this.fail(
          [...path, "material"],
          `Cannot read process.silicon.material: ${unknownWord("a material", silicon.material, [...this.own.keys(), ...materialNames()])}`,
        );
      if (silicon.dopant !== undefined)
        this.fail(
          [...path, "dopant"],
          "process.silicon has both a material and a dopant: a material has its own resistivity, so delete one of the two.",
        );
      return named;
    }
    const { dopant, resistivity, concentration } = silicon;
    if (dopant === undefined)
      this.fail(
        path,
        'process.silicon lacks "dopant" (or "material"): write for example dopant: boron and resistivity: 0.0150 ohm cm.',
      );
    if ((resistivity === undefined) === (concentration === undefined))
      this.fail(
        path,
        `process.silicon ${resistivity === undefined ? 'lacks "resistivity" or "concentration"' : 'has both "resistivity" and "concentration"'}: give one of the two, for example resistivity: 0.0150 ohm cm.`,
      );
    const level =
      resistivity !== undefined
        ? { resistivityAt300: this.scope.valueOf(resistivity) }
        : { concentration: this.scope.valueOf(concentration!) };
    const axis = silicon["long axis"] === "<100>" ? Math.PI / 4 : 0;
    try {
      return siliconMaterial({
        dopant,
        waferPlane: silicon["wafer plane"] === "(111)" ? "111" : "100",
        axisAngle: axis + angle,
        ...level,
      });
    } catch (error) {
      if (error instanceof RangeError)
        this.fail([...path, resistivity !== undefined ? "resistivity" : "concentration"], `${error.message} in process.silicon.`);
      throw error;
    }
  }

  private factor(name: "conductivity factor" | "expansion factor" | "stiffness factor", law: Law): number {
    const stated = this.description.sections.process.silicon[name];
    if (stated !== undefined) return this.scope.valueOf(stated);
    return law.relativeSpread > 0 ? this.scope.factor(`silicon ${name}`, law.relativeSpread) : 1;
  }

  /** Doubt of a law of resistivity as a whole; that of doped silicon is in the phrase that gives its resistivity. */
  private resistivityFactor(law: Law): number {
    const named = this.description.sections.process.silicon.material !== undefined;
    return named && law.relativeSpread > 0 ? this.scope.factor("silicon resistivity law", law.relativeSpread) : 1;
  }

  private makeMaterial(angle: number): BeamMaterial {
    const material = this.published(angle);
    const { resistivity, expansion, youngsModulus } = material;
    const ownConductivity = this.description.sections.process.silicon.conductivity;
    const conductivity = ownConductivity === undefined ? material.conductivity : lawFromText(ownConductivity, this.scope);
    const path = this.own.has(material.name) ? ["materials", material.name] : ["process", "silicon"];
    if (conductivity === undefined)
      this.fail(
        path,
        `The material "${material.name}" lacks "conductivity": write for example conductivity: 120 W/(m K), or lend it by "based on".`,
      );
    if (resistivity === undefined)
      this.fail(
        path,
        `The material "${material.name}" lacks "resistivity": write for example resistivity: 0.015 ohm cm, or lend it by "based on".`,
      );
    if (expansion === undefined)
      this.fail(
        path,
        `The material "${material.name}" lacks "expansion": write for example expansion: 2.6 ppm/K, or lend it by "based on".`,
      );
    if (youngsModulus === undefined)
      this.fail(
        path,
        `The material "${material.name}" lacks "young modulus": write for example young modulus: 169 GPa, or lend it by "based on".`,
      );
    return {
      name: material.name,
      conductivity: scaled(conductivity, this.factor("conductivity factor", conductivity)),
      resistivity: scaled(resistivity, this.resistivityFactor(resistivity)),
      expansion: scaledExpansion(expansion, this.factor("expansion factor", expansion)),
      youngsModulus: scaled(youngsModulus, this.factor("stiffness factor", youngsModulus)),
      poissonRatio: material.poissonRatio?.at(300),
      heatCapacity: material.heatCapacity,
      density: material.density,
      strength: this.strength(material),
      temperatureLimits: material.temperatureLimits,
    };
  }

  private strength(material: Material): Strength | undefined {
    const { silicon } = this.description.sections.process;
    if (material.strength === undefined) return undefined;
    return {
      ...material.strength,
      ...(silicon.strength && { referenceStrength: this.scope.valueOf(silicon.strength) }),
      ...(silicon["strength spread"] && { modulus: this.scope.valueOf(silicon["strength spread"]) }),
    };
  }
}

/** Laws of the silicon on one side, for every direction. */
export function siliconOf(description: Description, scope: Scope): { materialAlong(angle: number): BeamMaterial } {
  return new SiliconOfText(description, scope);
}

/** The conditions of a device on one side, in an operating case. */
export function conditionsOf(
  description: Description,
  scope: Scope,
  options: {
    readonly silicon: { materialAlong(angle: number): BeamMaterial };
    readonly surroundings: CaseSurroundings;
    readonly shapeFactors: ShapeFactorStore;
    /** Name of the device. */
    readonly device: string;
  },
): Conditions {
  const { process, surroundings } = description.sections;
  const gasName = options.surroundings.gas ?? surroundings.gas;
  const gas = gasName === "vacuum" ? undefined : findGas(gasName);
  const { pressure } = surroundings;
  if (gas !== undefined && pressure === undefined) {
    throw new EvaluationError(
      'surroundings lacks "pressure": a gas has one, for example 101 kPa.',
      placeOfPath(description.parsed, ["surroundings"]),
    );
  }
  const factorText = surroundings["gas heat factor"];
  const gap = process["gap under silicon"];
  const bond = process["bond strain"];
  return {
    materialAlong: (angle) => options.silicon.materialAlong(angle),
    thickness: scope.valueOf(process["silicon thickness"]),
    inward: inwardOf(process, scope),
    gap: gap === undefined ? undefined : scope.valueOf(gap),
    gas: gas === undefined || pressure === undefined ? undefined : { gas, pressure: scope.valueOf(pressure) },
    gasFactor: factorText === undefined ? 1 : scope.valueOf(factorText),
    ambient: scope.valueOf(options.surroundings.temperature ?? surroundings.temperature),
    bondStrain: bond === undefined ? 0 : scope.valueOf(bond),
    shapeFactors: options.shapeFactors,
    notchFactor: optional(process.silicon["notch factor"], scope) ?? 1,
    emissivity: optional(process.silicon.emissivity, scope) ?? 0,
    glass: glassOf(description, scope, options.device),
  };
}

function optional(quantity: QuantityText | undefined, scope: Scope): number | undefined {
  return quantity === undefined ? undefined : scope.valueOf(quantity);
}

/** The glass of the die; a die without a stated size is taken as 5 mm square. */
function glassOf(description: Description, scope: Scope, device: string): GlassPlate | undefined {
  const { process, surroundings, die } = description.sections;
  const { glass } = process;
  if (glass === undefined) return undefined;
  const material = findMaterial(glass.material);
  const place = placeOfPath(description.parsed, ["process", "glass", "material"]);
  if (material === undefined)
    throw new EvaluationError(
      `Cannot read process.glass.material: ${unknownWord("a built-in material", glass.material, materialNames())}`,
      place,
    );
  const { conductivity, heatCapacity, density } = material;
  if (conductivity === undefined || heatCapacity === undefined || density === undefined)
    throw new EvaluationError(
      `The material "${glass.material}" lacks the conductivity, specific heat or density that heat in the glass needs.`,
      place,
    );
  const T = scope.valueOf(surroundings.temperature);
  const film = surroundings["base film"];
  if (surroundings.mount !== undefined && surroundings.mount !== "chuck" && film === undefined)
    throw new EvaluationError(
      `surroundings lacks "base film": glass that does not stand on a chuck loses heat by one, for example base film: 500 W/(m^2 K).`,
      placeOfPath(description.parsed, ["surroundings"]),
    );
  const stands = die?.places?.get(device);
  return {
    place: stands === undefined ? { x: 0, y: 0 } : { x: scope.valueOf(stands.x), y: scope.valueOf(stands.y) },
    width: die === undefined ? unstatedDie : scope.valueOf(die.size.width),
    height: die === undefined ? unstatedDie : scope.valueOf(die.size.height),
    thickness: scope.valueOf(glass.thickness),
    conductivity: conductivity.at(T),
    heatCapacity: heatCapacity.at(T) * density.at(T),
    baseFilm: film === undefined ? undefined : scope.valueOf(film),
  };
}
