/**
 * The layers of one device, each as its outlines: what stands on the glass as drawn, and the silicon as built. The same outlines make the
 * plates. Main test: layers.test.ts.
 */
import { outlinesOf, type PartOutline } from "#devices";
import {
  dbuFromMetres,
  differenceOf,
  metresPerDbu,
  offsetPolygons,
  outlineFromPolygon,
  type Polygon,
  polygonFromOutline,
  unionOf,
} from "#geometry";
import { inwardOf } from "../evaluate/chip-conditions.ts";
import type { Chip } from "../predict/chip.ts";
import { chooseDevice } from "../predict/choose.ts";

/** Outer boundaries and holes, to be filled by the even-odd rule, [n × 2] m each. */
export type Outlines = readonly Float64Array[];

export interface DeviceLayers {
  /** Silicon bonded to the glass, and silicon that is free of it, at target size. */
  readonly anchors: Outlines;
  readonly moving: Outlines;
  /** Both, as one. */
  readonly silicon: Outlines;
  /** The silicon with its edges where the etch leaves them. */
  readonly built: Outlines;
  readonly metal: Outlines;
  /** Of the recess in the glass; none where its depth is not stated. */
  readonly recess: Outlines;
  /** Whose silicon it is; openings are left out. */
  readonly parts: readonly { readonly name: string; readonly outline: Float64Array }[];
  /** How far edges as built lie inside those as drawn, [m]; negative where they lie outside. */
  readonly inward: number;
  /** Of the silicon, [m]. */
  readonly thickness: number;
  /** Of the recess, [m]; undefined where it is not stated. */
  readonly depth: number | undefined;
}

const sharp = { join: "mitre", limit: 2 } as const;

const toOutlines = (polygons: readonly Polygon[]): Outlines => polygons.map(outlineFromPolygon);

/** Throws InputError where the device is not known. */
export function layersOf(chip: Chip, device: string): DeviceLayers {
  const drawn = chip.side("drawn");
  const outlines = outlinesOf(drawn.assemblyOf(chooseDevice(chip, device)));
  const chosen = (wanted: (outline: PartOutline) => boolean): readonly Polygon[] =>
    unionOf(outlines.filter(wanted).map(({ polygon }) => polygonFromOutline(polygon)));
  const anchors = chosen(({ plate, free }) => plate === "silicon" && !free);
  const free = chosen(({ plate, free: isFree, opening }) => plate === "silicon" && isFree && !opening);
  const openings = chosen(({ plate, opening }) => plate === "silicon" && opening);
  const moving = differenceOf(free, [...openings, ...anchors]);
  const silicon = unionOf(moving, anchors);
  const { process } = chip.description.sections;
  const lengthOf = (name: "recess margin" | "gap under silicon"): number | undefined => {
    const quantity = process[name];
    return quantity === undefined ? undefined : drawn.scope.valueOf(quantity);
  };
  const depth = lengthOf("gap under silicon");
  // a recess runs on under slits and holes
  const under = differenceOf(free, anchors);
  const margin = lengthOf("recess margin") ?? 0;
  const inward = inwardOf(process, chip.side("built").scope);
  return {
    anchors: toOutlines(anchors),
    moving: toOutlines(moving),
    silicon: toOutlines(silicon),
    built: toOutlines(inward === 0 ? silicon : offsetPolygons(silicon, -inward / metresPerDbu, sharp)),
    metal: toOutlines(chosen(({ plate }) => plate === "metal")),
    recess: depth === undefined ? [] : toOutlines(margin > 0 ? offsetPolygons(under, dbuFromMetres(margin), sharp) : under),
    parts: outlines.flatMap(({ part, plate, opening, polygon }) =>
      plate === "silicon" && !opening ? [{ name: part, outline: polygon }] : [],
    ),
    inward,
    thickness: drawn.scope.valueOf(process["silicon thickness"]),
    depth,
  };
}
