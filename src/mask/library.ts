/**
 * What a plate carries: cells of polygons and labels, which may place other cells.
 *
 * Coordinates are whole database units of 1 nm (see #geometry). A cell's shapes on one layer mean the region of their polygons
 * (outer boundaries counter-clockwise, holes clockwise).
 */
import {
  composeTransforms,
  mirror,
  type Polygon,
  rotation,
  scaling,
  type Transform,
  transformPolygon,
  translation,
} from "#geometry";

/** Polygons of one layer and datatype. */
export interface Shape {
  readonly layer: number;
  readonly datatype: number;
  readonly polygons: readonly Polygon[];
}

/** A word at a point, for readers of the data; it does not print. */
export interface Label {
  readonly layer: number;
  readonly texttype: number;
  readonly text: string;
  /** [dbu] */
  readonly at: readonly [x: number, y: number];
}

/** Repeats of a placement: copy (i, j) is shifted by i * columnStep + j * rowStep. */
export interface PlacementArray {
  readonly columns: number;
  readonly rows: number;
  /** [dbu], may be a fraction: each copy is rounded to the grid. */
  readonly columnStep: readonly [x: number, y: number];
  readonly rowStep: readonly [x: number, y: number];
}

/** One cell put into another: mirrored about its x axis if asked, then magnified, turned, and moved. */
export interface Placement {
  readonly cell: string;
  /** [dbu] */
  readonly at: readonly [x: number, y: number];
  /** Counter-clockwise, [rad]. */
  readonly rotation: number;
  readonly magnification: number;
  /** True for a mirror about the x axis, done first. */
  readonly mirrored: boolean;
  readonly array?: PlacementArray;
}

export interface Cell {
  readonly name: string;
  readonly shapes: readonly Shape[];
  readonly labels: readonly Label[];
  readonly placements: readonly Placement[];
}

export interface Library {
  readonly name: string;
  readonly cells: readonly Cell[];
}

/** The move that a placement does to its cell's first copy. */
export function transformOfPlacement(placement: Placement): Transform {
  const mirrored = placement.mirrored ? mirror(0, { through: [0, 0] }) : translation(0, 0);
  const turned = composeTransforms(composeTransforms(mirrored, scaling(placement.magnification)), rotation(placement.rotation));
  return composeTransforms(turned, translation(placement.at[0], placement.at[1]));
}

/** Cells of a library by name; refuses two of one name. */
export function cellsByName(library: Library): ReadonlyMap<string, Cell> {
  const cells = new Map<string, Cell>();
  for (const cell of library.cells) {
    if (cells.has(cell.name)) throw new RangeError(`Cannot use library ${library.name}: it holds two cells called ${cell.name}`);
    cells.set(cell.name, cell);
  }
  return cells;
}

/**
 * Says what is wrong with the placements of a library: a cell that is not there, or cells that contain each other. Undefined if sound.
 * Works without recursion, so a long chain of cells cannot exhaust the stack.
 */
export function findPlacementFault(library: Library): { readonly cell: string; readonly fault: string } | undefined {
  const cells = cellsByName(library);
  const finished = new Set<string>();
  for (const root of library.cells) {
    const open = new Set<string>();
    const trail: { cell: Cell; next: number }[] = finished.has(root.name) ? [] : [{ cell: root, next: 0 }];
    open.add(root.name);
    while (trail.length > 0) {
      const here = trail[trail.length - 1]!;
      const placement = here.cell.placements[here.next++];
      if (placement === undefined) {
        finished.add(here.cell.name);
        open.delete(here.cell.name);
        trail.pop();
        continue;
      }
      const placed = cells.get(placement.cell);
      if (placed === undefined)
        return { cell: here.cell.name, fault: `it places cell ${placement.cell}, which is not in the library` };
      if (open.has(placed.name)) return { cell: here.cell.name, fault: `it places cell ${placed.name}, which contains it` };
      if (finished.has(placed.name)) continue;
      open.add(placed.name);
      trail.push({ cell: placed, next: 0 });
    }
  }
  return undefined;
}

export interface FlattenOptions {
  /** Name of the cell to start from. */
  readonly cell: string;
  /** Refuse when more polygons than this would come out: arrays of arrays multiply. */
  readonly mostPolygons: number;
}

interface Copy {
  readonly cell: Cell;
  readonly transform: Transform;
}

function* copiesOf(placement: Placement): Generator<Transform> {
  const base = transformOfPlacement(placement);
  const { array } = placement;
  for (let j = 0; j < (array?.rows ?? 1); j++) {
    for (let i = 0; i < (array?.columns ?? 1); i++) {
      const x = i * (array?.columnStep[0] ?? 0) + j * (array?.rowStep[0] ?? 0);
      const y = i * (array?.columnStep[1] ?? 0) + j * (array?.rowStep[1] ?? 0);
      yield composeTransforms(base, translation(x, y));
    }
  }
}

/** All shapes of a cell and of the cells placed in it, in its own coordinates, gathered by layer and datatype. */
export function flattenCell(library: Library, options: FlattenOptions): readonly Shape[] {
  const fault = findPlacementFault(library);
  if (fault !== undefined) throw new RangeError(`Cannot flatten cell ${fault.cell}: ${fault.fault}`);
  const cells = cellsByName(library);
  const top = cells.get(options.cell);
  if (top === undefined) throw new RangeError(`Cannot flatten cell ${options.cell}: it is not in the library ${library.name}`);
  const gathered = new Map<string, { layer: number; datatype: number; polygons: Polygon[] }>();
  let work = 0;
  const count = (amount: number): void => {
    work += amount;
    if (work > options.mostPolygons)
      throw new RangeError(
        `Cannot flatten cell ${options.cell}: wanted at most ${options.mostPolygons} polygons and placements, found more`,
      );
  };
  const waiting: Copy[] = [{ cell: top, transform: translation(0, 0) }];
  for (let copy = waiting.pop(); copy !== undefined; copy = waiting.pop()) {
    for (const { layer, datatype, polygons } of copy.cell.shapes) {
      const key = `${layer}/${datatype}`;
      const shape = gathered.get(key) ?? { layer, datatype, polygons: [] };
      gathered.set(key, shape);
      count(polygons.length);
      for (const polygon of polygons) shape.polygons.push(transformPolygon(polygon, copy.transform));
    }
    for (const placement of copy.cell.placements) {
      for (const transform of copiesOf(placement)) {
        count(1);
        waiting.push({ cell: cells.get(placement.cell)!, transform: composeTransforms(transform, copy.transform) });
      }
    }
  }
  return [...gathered.values()].sort((a, b) => a.layer - b.layer || a.datatype - b.datatype);
}
