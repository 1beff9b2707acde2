/**
 * Telling two libraries apart, cell by cell: by the region of each layer, not by how it is cut into polygons.
 * Labels and placements are compared as lists without order. Main test: gdsii.test.ts.
 */
import { comparePolygonSets } from "#geometry";
import { type Cell, cellsByName, type Label, type Library, type Placement, type Shape } from "./library.ts";

export type LibraryDifference =
  | { readonly kind: "cell missing"; readonly cell: string; readonly missingFrom: "first" | "second" }
  | {
      readonly kind: "shape";
      readonly cell: string;
      readonly layer: number;
      readonly datatype: number;
      /** Area on which the two differ, [dbu^2]. */
      readonly area: number;
    }
  | { readonly kind: "labels" | "placements"; readonly cell: string };

function keyOfShape(shape: Shape): string {
  return `${shape.layer}/${shape.datatype}`;
}

function compareShapes(a: Cell, b: Cell): readonly LibraryDifference[] {
  const numbers = new Map([...a.shapes, ...b.shapes].map((shape) => [keyOfShape(shape), shape]));
  return [...numbers].flatMap(([key, { layer, datatype }]) => {
    const polygons = (cell: Cell) => cell.shapes.filter((shape) => keyOfShape(shape) === key).flatMap((shape) => shape.polygons);
    const area = comparePolygonSets(polygons(a), polygons(b));
    return area === 0 ? [] : [{ kind: "shape", cell: a.name, layer, datatype, area } as const];
  });
}

function labelText(label: Label): string {
  return JSON.stringify([label.layer, label.texttype, label.text, ...label.at]);
}

/** Angles and steps are compared to nine places: what a stream file keeps. */
function placementText(placement: Placement): string {
  const { array, at } = placement;
  const turn = placement.rotation / (2 * Math.PI);
  const steps = array === undefined ? [] : [array.columns, array.rows, ...array.columnStep, ...array.rowStep];
  const numbers = [turn - Math.floor(turn + 1e-12), placement.magnification, ...at, ...steps].map((value) =>
    Number(value.toFixed(9)),
  );
  return JSON.stringify([placement.cell, placement.mirrored, ...numbers]);
}

function sameLists(a: readonly string[], b: readonly string[]): boolean {
  return JSON.stringify([...a].sort()) === JSON.stringify([...b].sort());
}

/** All differences; none when the libraries mean the same plates. Names of the libraries do not matter. */
export function compareLibraries(first: Library, second: Library): readonly LibraryDifference[] {
  const [a, b] = [cellsByName(first), cellsByName(second)];
  return [...new Set([...a.keys(), ...b.keys()])].flatMap((name): readonly LibraryDifference[] => {
    const [cellA, cellB] = [a.get(name), b.get(name)];
    if (cellA === undefined) return [{ kind: "cell missing", cell: name, missingFrom: "first" }];
    if (cellB === undefined) return [{ kind: "cell missing", cell: name, missingFrom: "second" }];
    const differences = [...compareShapes(cellA, cellB)];
    if (!sameLists(cellA.labels.map(labelText), cellB.labels.map(labelText))) differences.push({ kind: "labels", cell: name });
    if (!sameLists(cellA.placements.map(placementText), cellB.placements.map(placementText)))
      differences.push({ kind: "placements", cell: name });
    return differences;
  });
}
