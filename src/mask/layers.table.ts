/**
 * Layers of the silicon-on-glass plates. The numbers are this program's own proposal (common practice, no source); a lab that uses
 * others maps them in its stream file.
 */

export interface PlateLayer {
  readonly layer: number;
  readonly name: string;
  /** What a drawn polygon means on the finished chip. */
  readonly meaning: string;
  /** The surface that is patterned. */
  readonly face: "silicon underside or glass top" | "glass top" | "silicon top" | "none";
  /** Whether the data are mirrored on the plate: depends on the patterned side where both are possible. */
  readonly mirroredOnPlate: "if in the silicon underside" | "no" | "not printed";
}

export const plateLayers: readonly PlateLayer[] = [
  {
    layer: 1,
    name: "RECESS",
    meaning: "material removed, so that what lies over it is free",
    face: "silicon underside or glass top",
    mirroredOnPlate: "if in the silicon underside",
  },
  { layer: 2, name: "GMETAL", meaning: "metal stays on the glass", face: "glass top", mirroredOnPlate: "no" },
  { layer: 3, name: "TMETAL", meaning: "metal stays on the silicon", face: "silicon top", mirroredOnPlate: "no" },
  { layer: 4, name: "STRUCT", meaning: "silicon stays", face: "silicon top", mirroredOnPlate: "no" },
  { layer: 10, name: "STREET", meaning: "lane for the saw or the cleave", face: "none", mirroredOnPlate: "not printed" },
  {
    layer: 20,
    name: "MARK",
    meaning: "alignment mark, copied to the plates that need it",
    face: "none",
    mirroredOnPlate: "not printed",
  },
  { layer: 21, name: "LABEL", meaning: "text, die name, artwork", face: "none", mirroredOnPlate: "not printed" },
  {
    layer: 30,
    name: "NOFILL",
    meaning: "no dummy silicon here, for a stated reason",
    face: "none",
    mirroredOnPlate: "not printed",
  },
  {
    layer: 31,
    name: "WAIVE",
    meaning: "a rule does not apply here, for a stated reason",
    face: "none",
    mirroredOnPlate: "not printed",
  },
];

/** The layer of that name. */
export function plateLayerNamed(name: string): PlateLayer {
  const found = plateLayers.find((layer) => layer.name === name);
  if (found === undefined)
    throw new RangeError(`Cannot find plate layer ${name}: wanted one of ${plateLayers.map((l) => l.name).join(", ")}`);
  return found;
}
