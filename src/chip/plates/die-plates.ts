/**
 * The plates of a die: silicon, metal and recess, as polygons on the mask grid.
 *
 * Targets come from the parts, the same that make the model. From target to plate there is one step, here and nowhere else: silicon is
 * moved out by the bias (lines wider, openings narrower), recess openings are moved in by their undercut, metal stays.
 *   silicon = (die - clear region) + device,   clear region = device and pads, widened by the trench
 *   recess  = free silicon, widened by its margin
 */
import { type Finding, InputError } from "#base";
import { outlinesOf, type PlateName } from "#devices";
import {
  areaOf,
  boundingBox,
  dbuFromMetres,
  decomposePolygons,
  differenceOf,
  intersectionOf,
  offsetPolygons,
  type Polygon,
  polygonFromOutline,
  rectangle,
  transformPolygons,
  translation,
  unionOf,
} from "#geometry";
import { type Library, plateLayerNamed, textPolygons } from "#mask";
import type { Scope } from "../evaluate/scope.ts";
import { evaluateRecord } from "../evaluate/values.ts";
import type { Chip } from "../predict/chip.ts";
import { dieFields } from "../sections/die.ts";
import { placeOfPath } from "../text/find-node.ts";

const sharp = { join: "mitre", limit: 2 } as const;

export interface Plate {
  readonly name: PlateName;
  /** Number of the layer in the stream file. */
  readonly layer: number;
  /** Wanted on the finished chip, [dbu]. */
  readonly target: readonly Polygon[];
  /** On the plate, bias applied, [dbu]. */
  readonly drawn: readonly Polygon[];
}

export interface DiePlates {
  readonly library: Library;
  readonly topCell: string;
  readonly plates: readonly Plate[];
  /** Die outline, [dbu]. */
  readonly outline: Polygon;
  readonly findings: readonly Finding[];
}

/** Which layer each plate is written on. */
const layerOf: Readonly<Record<PlateName, string>> = { recess: "RECESS", metal: "GMETAL", silicon: "STRUCT" };

interface DeviceShapes {
  readonly silicon: readonly Polygon[];
  readonly free: readonly Polygon[];
  readonly metal: readonly Polygon[];
  readonly trench: number;
}

function cellName(text: string): string {
  return (
    text
      .toUpperCase()
      .replaceAll(/[^A-Z0-9_]+/g, "_")
      .slice(0, 32) || "DIE"
  );
}

function deviceShapes(chip: Chip, device: string, at: { x: number; y: number }): DeviceShapes {
  const assembly = chip.side("drawn").assemblyOf(device);
  if (assembly.trench === undefined) {
    const place = placeOfPath(chip.description.parsed, ["devices", device]);
    throw new InputError([
      {
        place,
        message: `Cannot draw devices.${device}: it lacks "trench", the clear width round it, for example trench: 24 um.`,
      },
    ]);
  }
  const outlines = outlinesOf(assembly);
  const move = translation(dbuFromMetres(at.x), dbuFromMetres(at.y));
  const chosen = (plate: PlateName, opening: boolean, free?: boolean): readonly Polygon[] =>
    unionOf(
      outlines
        .filter(
          (outline) => outline.plate === plate && outline.opening === opening && (free === undefined || outline.free === free),
        )
        .map((outline) => polygonFromOutline(outline.polygon)),
    );
  const of = (plate: PlateName, free?: boolean): readonly Polygon[] =>
    transformPolygons(differenceOf(chosen(plate, false, free), chosen(plate, true)), move);
  return {
    silicon: of("silicon"),
    // a recess runs on under slits and holes
    free: transformPolygons(differenceOf(chosen("silicon", false, true), chosen("silicon", false, false)), move),
    metal: of("metal"),
    trench: assembly.trench,
  };
}

interface Sizes {
  readonly width: number;
  readonly height: number;
  readonly street: number;
  readonly frame: number;
  readonly bias: number;
  readonly recessMargin: number;
  readonly recessUndercut: number;
}

function sizesOf(chip: Chip, scope: Scope): Sizes & { readonly values: ReturnType<typeof evaluateRecord<typeof dieFields>> } {
  const { die, process } = chip.description.sections;
  if (die === undefined) {
    throw new InputError([
      {
        place: placeOfPath(chip.description.parsed, []),
        message:
          'Cannot draw the plates: the text lacks the section "die", for example die: { size: { width: 5 mm, height: 5 mm } }.',
      },
    ]);
  }
  const values = evaluateRecord(dieFields, die, scope);
  const length = (quantity: Parameters<Scope["valueOf"]>[0] | undefined): number =>
    quantity === undefined ? 0 : scope.valueOf(quantity);
  return {
    values,
    width: values.size.width,
    height: values.size.height,
    street: values.street ?? 0,
    frame: values.frame ?? 0,
    bias: length(process["bias per edge"]),
    recessMargin: length(process["recess margin"]),
    recessUndercut: length(process["recess undercut per edge"]),
  };
}

/** Letters of the title in a window of their own, at the lower left inside the frame. */
function titleShapes(
  title: string,
  at: { height: number; sizes: Sizes },
): { letters: readonly Polygon[]; window: readonly Polygon[] } {
  const { height, sizes } = at;
  const letters = textPolygons(title, { height: dbuFromMetres(height) });
  const box = boundingBox(letters);
  if (box === undefined) return { letters: [], window: [] };
  const margin = dbuFromMetres(height / 2);
  const left = dbuFromMetres(-sizes.width / 2 + sizes.frame) + 2 * margin;
  const bottom = dbuFromMetres(-sizes.height / 2 + sizes.frame) + 2 * margin;
  const moved = transformPolygons(letters, translation(left - box.left, bottom - box.bottom));
  const window = rectangle({
    left: left - margin,
    bottom: bottom - margin,
    right: left + (box.right - box.left) + margin,
    top: bottom + (box.top - box.bottom) + margin,
  });
  return { letters: moved, window: [window] };
}

function placeFindings(parts: { name: string; clear: readonly Polygon[] }[], inner: Polygon): Finding[] {
  const findings: Finding[] = [];
  parts.forEach(({ name, clear }, i) => {
    if (areaOf(differenceOf(clear, [inner])) > 0) {
      findings.push({
        code: "outside-the-frame",
        severity: "error",
        where: name,
        message: `${name} does not fit inside the frame of the die. Make the die larger, or move it.`,
      });
    }
    for (const other of parts.slice(i + 1)) {
      if (areaOf(intersectionOf(clear, other.clear)) > 0) {
        findings.push({
          code: "overlap",
          severity: "error",
          where: name,
          message: `${name} and ${other.name} overlap on the die, their trenches included. Move one of them under die.places.`,
        });
      }
    }
  });
  return findings;
}

/** Works out the plates of the die of a chip. */
export function buildPlates(chip: Chip): DiePlates {
  const scope = chip.side("drawn").scope;
  const sizes = sizesOf(chip, scope);
  const { values } = sizes;
  const half = { x: dbuFromMetres(sizes.width / 2), y: dbuFromMetres(sizes.height / 2) };
  const outline = rectangle({ left: -half.x, bottom: -half.y, right: half.x, top: half.y });
  const frame = dbuFromMetres(sizes.frame);
  const inner = rectangle({ left: -half.x + frame, bottom: -half.y + frame, right: half.x - frame, top: half.y - frame });
  const devices = chip.names.devices.map((name) => ({
    name,
    shapes: deviceShapes(chip, name, values.places?.get(name) ?? { x: 0, y: 0 }),
  }));
  const title =
    values.title === undefined
      ? { letters: [], window: [] }
      : titleShapes(values.title, { height: values["title height"] ?? 120e-6, sizes });
  const cleared = devices.map(({ name, shapes }) => ({
    name,
    clear: offsetPolygons(unionOf([...shapes.silicon, ...shapes.metal]), dbuFromMetres(shapes.trench), sharp),
  }));
  const findings = placeFindings([...cleared, { name: "the title", clear: title.window }], inner);
  const clear = unionOf([...cleared.flatMap((entry) => entry.clear), ...title.window]);
  const silicon = unionOf(
    differenceOf([outline], clear),
    devices.flatMap(({ shapes }) => shapes.silicon),
  );
  const free = devices.flatMap(({ shapes }) => shapes.free);
  const recess = sizes.recessMargin > 0 ? offsetPolygons(free, dbuFromMetres(sizes.recessMargin), sharp) : unionOf(free);
  const metal = unionOf([...devices.flatMap(({ shapes }) => shapes.metal), ...title.letters]);
  const biased = offsetPolygons(silicon, dbuFromMetres(sizes.bias), sharp);
  const narrowed = offsetPolygons(recess, -dbuFromMetres(sizes.recessUndercut), sharp);
  if (chip.description.sections.process.flow === "silicon on glass, two plates" && metal.length > 0) {
    findings.push({
      code: "metal-without-plate",
      severity: "error",
      where: "metal",
      message:
        'The flow "silicon on glass, two plates" has no metal, but pads or a title are drawn in it. Take the flow with three plates, or leave them out.',
    });
  }
  const plates: Plate[] = [
    { name: "recess", layer: plateLayerNamed(layerOf.recess).layer, target: recess, drawn: narrowed },
    { name: "metal", layer: plateLayerNamed(layerOf.metal).layer, target: metal, drawn: metal },
    // the die ends in the street, where bias has no meaning
    { name: "silicon", layer: plateLayerNamed(layerOf.silicon).layer, target: silicon, drawn: intersectionOf(biased, [outline]) },
  ];
  return { ...libraryOf(chip, { plates, outline, street: dbuFromMetres(sizes.street) }), plates, outline, findings };
}

function libraryOf(
  chip: Chip,
  at: { plates: readonly Plate[]; outline: Polygon; street: number },
): { library: Library; topCell: string } {
  const topCell = cellName(chip.description.sections.chip);
  const lane = at.street > 0 ? differenceOf(offsetPolygons([at.outline], at.street / 2, sharp), [at.outline]) : [];
  const shapes = [
    // a stream file has no holes: outlines are cut into pieces here, so that what is read back is what was written
    ...at.plates.map(({ layer, drawn }) => ({ layer, datatype: 0, polygons: decomposePolygons(drawn, { mostPoints: 4000 }) })),
    ...(lane.length > 0
      ? [{ layer: plateLayerNamed("STREET").layer, datatype: 0, polygons: decomposePolygons(lane, { mostPoints: 4000 }) }]
      : []),
  ].filter((shape) => shape.polygons.length > 0);
  const label = { layer: plateLayerNamed("LABEL").layer, texttype: 0, text: chip.description.sections.chip, at: [0, 0] as const };
  return { library: { name: topCell, cells: [{ name: topCell, shapes, labels: [label], placements: [] }] }, topCell };
}
