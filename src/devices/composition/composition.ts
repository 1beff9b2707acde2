/**
 * A device composed in the text from parts: named points, parts between them, copies of parts in rows or as mirror images.
 * Ends of beams are joined to the body that they lie on, or to each other where they lie in one place. Whatever else touches is refused
 * (src/devices/checks/touching.ts).
 */
import { choice, type Fields, list, mapOf, quantity, record, type ValueRecord, whole } from "#base";
import { composeTransforms, mirror, rotation, type Transform, translation } from "#geometry";
import { AssemblyError } from "../assembly-error.ts";
import type { Draft } from "../draft.ts";
import type { Part, Place } from "../drawing/part.ts";
import { samePlace } from "../drawing/slab.ts";
import { transformPart, transformPlace } from "../drawing/transform-parts.ts";
import { deviceFields } from "../families/common.ts";
import { defineFamily } from "../family.ts";
import { drawnAngle, drawnLength, pointName, signedLength } from "../parts/fields.ts";
import { findPartWord, partShape } from "./words.ts";

const pointFields = {
  from: {
    shape: pointName,
    about: "Another point that this one is told from. Left out: the origin of the device.",
    optional: true,
  },
  x: { shape: signedLength("100 um"), about: "Way along x.", optional: true },
  y: { shape: signedLength("50 um"), about: "Way along y.", optional: true },
  distance: { shape: drawnLength("500 um"), about: "Way along a direction, in place of x and y.", optional: true },
  direction: { shape: drawnAngle("3 deg"), about: "That direction, counter-clockwise from x.", optional: true },
} as const satisfies Fields;

const copyFields = {
  of: {
    shape: list(pointName),
    about:
      "Names of the parts that are copied, and of points that go with them. The points under points that a copied part names go with it.",
  },
  "mirror at x": { shape: signedLength("0 um"), about: "Mirror image about the upright line at this x.", optional: true },
  "mirror at y": { shape: signedLength("0 um"), about: "Mirror image about the level line at this y.", optional: true },
  times: {
    shape: whole({ least: 1, most: 1000, example: "5" }),
    about: "How many copies, each one step further.",
    optional: true,
  },
  "step x": { shape: signedLength("0 um"), about: "Step from one copy to the next along x.", optional: true },
  "step y": { shape: signedLength("16 um"), about: "Step from one copy to the next along y.", optional: true },
} as const satisfies Fields;

const lightFields = {
  blade: { shape: pointName, about: "The part with the slits." },
  "fixed slit": { shape: drawnLength("6 um"), about: "Width of the slits in the metal, as wide apart as those of the blade." },
  offset: {
    shape: quantity("length", { example: "0 um ± 3 um", evidence: "drawn", least: -1e-3, most: 1e-3 }),
    about: "How far the fixed slits lie above the middle of the bars that cover them at rest: a choice, and the alignment.",
  },
  cone: {
    shape: quantity("angle", { example: "10 deg", evidence: "assumed", least: 0, most: 1.57 }),
    about: "Half-angle of the cone that the light comes in.",
  },
  "metal reflectance": {
    shape: quantity("number", { example: "0.6", evidence: "assumed", least: 0, most: 1 }),
    about: "Share of the light that the metal returns.",
  },
  "silicon index": {
    shape: quantity("number", { example: "3.75", evidence: "assumed", least: 1, most: 10 }),
    about: "Refractive index of the blade.",
  },
} as const satisfies Fields;

const outputFields = {
  point: { shape: pointName, about: "Point whose motion is the travel." },
  direction: { shape: drawnAngle("90 deg"), about: "Direction of the travel, counter-clockwise from x." },
  guided: {
    shape: choice("yes", "no"),
    about: "Whether what it pushes keeps the point from moving aside and turning, when it is blocked. Left out: no.",
    optional: true,
  },
} as const satisfies Fields;

export const compositionFields = {
  points: {
    shape: mapOf(record(pointFields), { names: "a point", example: "tip: { x: 0 um, y: 200 um }" }),
    about: "Named places.",
    optional: true,
  },
  parts: {
    shape: mapOf(partShape, { names: "a part", example: "arm: { is: beam, from: root, to: tip, width: 6 um }" }),
    about: "What it is made of.",
  },
  copies: {
    shape: mapOf(record(copyFields), { names: "copies", example: "right: { of: [arm], mirror at x: 0 um }" }),
    about:
      "Parts in a row, or their mirror images. A copy is named after both, its points too: right arm, right tip; in a row right 1 arm.",
    optional: true,
  },
  output: { shape: record(outputFields), about: "Where it pushes. Left out where nothing is pushed.", optional: true },
  light: {
    shape: record(lightFields),
    about: "Light through slits of a blade and slits fixed under it.",
    optional: true,
  },
  ...deviceFields,
} as const satisfies Fields;

type Values = ValueRecord<typeof compositionFields>;

interface Drawn {
  readonly parts: readonly Part[];
  /** Full names of the points. */
  readonly points: ReadonlyMap<string, Place>;
  /** Points stated under points that it names: they go with its copies. */
  readonly stated: ReadonlyMap<string, Place>;
}

/** Draws the parts of one composition, each when it is first needed. */
class Composer {
  private readonly drawn = new Map<string, Drawn>();
  private readonly open: string[] = [];
  private readonly places = new Map<string, Place>();

  constructor(private readonly values: Values) {}

  /** Parts and copies, in the order of the text. */
  draw(): Pick<Drawn, "parts" | "points"> {
    const { parts } = this.values;
    const whole: { parts: Part[]; points: Map<string, Place> } = { parts: [], points: new Map() };
    const include = ({ parts: more, points }: Drawn): void => {
      whole.parts.push(...more);
      requireOwnNames(whole.parts);
      for (const [name, place] of points) {
        const known = whole.points.get(name);
        if (known !== undefined && Math.hypot(known.x - place.x, known.y - place.y) > samePlace)
          throw new AssemblyError(
            `two points are called "${name}": rename the one that you state, or the part that has the other`,
          );
        whole.points.set(name, place);
      }
    };
    for (const name of this.values.points?.keys() ?? []) whole.points.set(name, this.placeOf(name));
    for (const name of parts.keys()) include(this.partNamed(name));
    for (const name of this.values.copies?.keys() ?? []) include(this.copyNamed(name));
    return whole;
  }

  placeOf(name: string): Place {
    const known = this.places.get(name);
    if (known !== undefined) return known;
    const place = this.guarded(`point "${name}"`, () => this.findPlace(name));
    this.places.set(name, place);
    return place;
  }

  private findPlace(name: string): Place {
    const stated = this.values.points?.get(name);
    if (stated !== undefined) return this.statedPlace(name, stated);
    const { parts } = this.values;
    for (const [owner, draw] of [
      ...[...parts.keys()].map((part) => [part, () => this.partNamed(part)] as const),
      ...[...(this.values.copies?.keys() ?? [])].map((copy) => [copy, () => this.copyNamed(copy)] as const),
    ]) {
      if (!name.startsWith(`${owner} `)) continue;
      const place = draw().points.get(name);
      if (place !== undefined) return place;
    }
    throw new AssemblyError(
      `there is no point "${name}": state it under points, or take one that a part has, such as "${[...parts.keys()][0]} middle"`,
    );
  }

  private statedPlace(name: string, stated: ValueRecord<typeof pointFields>): Place {
    const { from, x, y, distance, direction } = stated;
    const base = from === undefined ? { x: 0, y: 0 } : this.placeOf(from);
    if ((distance === undefined) !== (direction === undefined))
      throw new AssemblyError(`the point "${name}" needs both a distance and a direction, or x and y`);
    if (distance !== undefined && direction !== undefined) {
      if (x !== undefined || y !== undefined)
        throw new AssemblyError(`the point "${name}" has both x or y and a distance: state one of the two ways`);
      return { x: base.x + distance * Math.cos(direction), y: base.y + distance * Math.sin(direction) };
    }
    if (from === undefined && (x === undefined || y === undefined))
      throw new AssemblyError(`the point "${name}" needs x and y, for example { x: 0 um, y: 100 um }`);
    return { x: base.x + (x ?? 0), y: base.y + (y ?? 0) };
  }

  private partNamed(name: string): Drawn {
    const known = this.drawn.get(name);
    if (known !== undefined) return known;
    const drawn = this.guarded(`part "${name}"`, () => this.drawPart(name));
    this.drawn.set(name, drawn);
    return drawn;
  }

  private drawPart(name: string): Drawn {
    const { word: wordName, values } = this.values.parts.get(name)!;
    const word = findPartWord(wordName);
    const parts: Part[] = [];
    const points = new Map<string, Place>();
    const stated = new Map<string, Place>();
    const { at, turned } = values as { readonly at?: string; readonly turned?: number };
    const transform =
      word.placed && at !== undefined
        ? composeTransforms(rotation(turned ?? 0), translation(...this.pairAt(at, stated)))
        : undefined;
    const draft: Draft = {
      name,
      named: (part) => `${name} ${part}`,
      place: (point) => this.placeFor(point, stated),
      add: (part) => parts.push(transform === undefined ? part : transformPart(part, transform, part.name)),
      markPoint: (point, place) =>
        points.set(`${name} ${point}`, transform === undefined ? place : transformPlace(place, transform)),
    };
    word.draw(values, draft);
    return { parts, points, stated };
  }

  /** A place that a part names; where the text states it under points, it goes with copies of the part. */
  private placeFor(point: string, stated: Map<string, Place>): Place {
    const place = this.placeOf(point);
    if (this.values.points?.has(point)) stated.set(point, place);
    return place;
  }

  private pairAt(point: string, stated: Map<string, Place>): [number, number] {
    const { x, y } = this.placeFor(point, stated);
    return [x, y];
  }

  private copyNamed(name: string): Drawn {
    const known = this.drawn.get(name);
    if (known !== undefined) return known;
    const drawn = this.guarded(`copies "${name}"`, () => this.drawCopy(name, this.values.copies!.get(name)!));
    this.drawn.set(name, drawn);
    return drawn;
  }

  private drawCopy(name: string, copy: ValueRecord<typeof copyFields>): Drawn {
    if (copy.of.length === 0) throw new AssemblyError(`the copies "${name}" are of nothing: name the parts that are copied`);
    const sources = copy.of.map((part) => this.sourceOf(name, part));
    const transforms = transformsOf(name, copy);
    const parts: Part[] = [];
    const points = new Map<string, Place>();
    transforms.forEach((transform, index) => {
      const before = transforms.length === 1 ? name : `${name} ${index + 1}`;
      for (const source of sources) {
        for (const part of source.parts) parts.push(transformPart(part, transform, `${before} ${part.name}`));
        for (const [point, place] of [...source.stated, ...source.points])
          points.set(`${before} ${point}`, transformPlace(place, transform));
      }
    });
    return { parts, points, stated: new Map() };
  }

  private sourceOf(copy: string, part: string): Drawn {
    if (this.values.parts.has(part)) return this.partNamed(part);
    if (this.values.copies?.has(part)) return this.copyNamed(part);
    if (this.values.points?.has(part)) return { parts: [], points: new Map(), stated: new Map([[part, this.placeOf(part)]]) };
    throw new AssemblyError(`the copies "${copy}" are of "${part}", which is neither a part nor copies nor a point`);
  }

  /** Guards against points and parts that are told from each other in a circle. */
  private guarded<T>(what: string, work: () => T): T {
    if (this.open.includes(what))
      throw new AssemblyError(`points and parts are told from each other in a circle: ${[...this.open, what].join(", ")}`);
    this.open.push(what);
    try {
      return work();
    } finally {
      this.open.pop();
    }
  }
}

/** A name that two parts have would tell the results of one of them as those of the other. */
function requireOwnNames(parts: readonly Part[]): void {
  const seen = new Set<string>();
  for (const { name } of parts) {
    if (seen.has(name))
      throw new AssemblyError(`two parts are called "${name}": rename one of them, or the copies it comes from`);
    seen.add(name);
  }
}

function transformsOf(name: string, copy: ValueRecord<typeof copyFields>): readonly Transform[] {
  const { "mirror at x": atX, "mirror at y": atY, times, "step x": stepX, "step y": stepY } = copy;
  const steps = times !== undefined || stepX !== undefined || stepY !== undefined;
  if ([atX !== undefined, atY !== undefined, steps].filter(Boolean).length !== 1)
    throw new AssemblyError(
      `the copies "${name}" need exactly one of: mirror at x, mirror at y, or times with step x and step y`,
    );
  if (atX !== undefined) return [mirror(Math.PI / 2, { through: [atX, 0] })];
  if (atY !== undefined) return [mirror(0, { through: [0, atY] })];
  if (times === undefined || (stepX ?? 0) ** 2 + (stepY ?? 0) ** 2 === 0)
    throw new AssemblyError(`the copies "${name}" need how many times, and a step that is not zero`);
  return Array.from({ length: times }, (_, i) => translation((i + 1) * (stepX ?? 0), (i + 1) * (stepY ?? 0)));
}

export const composition = defineFamily({
  name: "composition",
  about: "A device of your own, made of parts between named points.",
  fields: compositionFields,
  draw: (values, draft) => {
    const composer = new Composer(values);
    const { parts, points } = composer.draw();
    for (const part of parts) draft.add(part);
    for (const [name, place] of points) draft.markPoint(name, place);
    const { output, light } = values;
    return {
      output: output && {
        at: composer.placeOf(output.point),
        direction: output.direction,
        guided: output.guided === "yes",
      },
      ...(light !== undefined && {
        light: {
          blade: light.blade,
          fixedSlit: light["fixed slit"],
          offset: light.offset,
          cone: light.cone,
          metalReflectance: light["metal reflectance"],
          bladeIndex: light["silicon index"],
        },
      }),
    };
  },
});
