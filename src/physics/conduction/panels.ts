/**
 * Straight panels on the outlines of rectangular cross-sections, and the potential that a uniformly charged panel makes.
 *
 * All panels lie along x or along y, so the integral of ln r over a panel has a short closed form.
 */

import type { CrossSection } from "./cross-section.ts";

/** Panels as columns: midpoint, half length, direction, and the rectangle to which each belongs. */
export interface PanelSet {
  readonly n: number;
  /** Midpoints [m]. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Half lengths [m]. */
  readonly half: Float64Array;
  /** 1 where the panel runs along y, 0 along x. */
  readonly isUpright: Uint8Array;
  /** 1 on undersides, -1 on tops, 0 on the sides between: what a panel pulls the plane by. */
  readonly plane: Int8Array;
  /** Index into the list of rectangles. */
  readonly owner: Int32Array;
}

/** How fast panels shrink towards a corner: with this power the error of the total charge is least for 6 to 16 panels (tried 2 to 3.5). */
const gradingPower = 2.5;

/** Place of the i-th of n panel ends along a side, 0 to 1, close together at both corners. */
function graded(u: number): number {
  const near = u ** gradingPower;
  return near / (near + (1 - u) ** gradingPower);
}

/** A straight side of a rectangle, from one corner to the next. */
interface Side {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly plane: -1 | 0 | 1;
  readonly owner: number;
  readonly nPanels: number;
}

/** A panel may be this many times as long as the nearest corner of another body is away: the charge facing a corner changes that fast. */
const lengthOverDistance = 1.5;
/** Halvings of one panel at most; corners closer than 2^-12 of a panel are left to the refusal of bodies that touch. */
const mostHalvings = 12;

/**
 * Appends panels of one side: towards its own corners the charge grows as distance^(-1/3) and the panels shrink faster than that;
 * opposite the corners of other bodies they are halved until they resolve the distance.
 */
function addSide(rows: number[][], side: Side, corners: readonly (readonly [x: number, y: number, owner: number])[]): void {
  const { from, to, plane, owner, nPanels } = side;
  const isUpright = from[0] === to[0] ? 1 : 0;
  const [spanX, spanY] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.abs(spanX) + Math.abs(spanY);
  const add = (a: number, b: number, halvings: number): void => {
    const middle = (a + b) / 2;
    const [x, y] = [from[0] + spanX * middle, from[1] + spanY * middle];
    const size = (b - a) * length;
    const limit = (size / lengthOverDistance) ** 2;
    if (halvings < mostHalvings && corners.some(([cx, cy, of]) => of !== owner && (cx - x) ** 2 + (cy - y) ** 2 < limit)) {
      add(a, middle, halvings + 1);
      add(middle, b, halvings + 1);
    } else rows.push([x, y, size / 2, isUpright, plane, owner]);
  };
  for (let i = 0; i < nPanels; i++) add(graded(i / nPanels), graded((i + 1) / nPanels), 0);
}

/**
 * Panels on every rectangle. A rectangle that stands on the plane has no panels below: its charge there would meet its own mirror image.
 * Every side gets an even number, so that a section symmetric about x = 0 has its panels in mirrored pairs.
 */
export function makePanels(rectangles: readonly CrossSection[], nPanelsPerSide: number): PanelSet {
  const rows: number[][] = [];
  const nPanels = 2 * Math.max(1, Math.round(nPanelsPerSide / 2));
  const corners = rectangles.flatMap(({ x, width, height, gap }, owner) =>
    [x - width / 2, x + width / 2].flatMap((cx) => [gap, gap + height].map((cy) => [cx, cy, owner] as const)),
  );
  rectangles.forEach(({ x, width, height, gap }, owner) => {
    const [left, right, bottom, top] = [x - width / 2, x + width / 2, gap, gap + height];
    if (gap > 0) addSide(rows, { from: [left, bottom], to: [right, bottom], plane: 1, owner, nPanels }, corners);
    addSide(rows, { from: [right, bottom], to: [right, top], plane: 0, owner, nPanels }, corners);
    addSide(rows, { from: [right, top], to: [left, top], plane: -1, owner, nPanels }, corners);
    addSide(rows, { from: [left, top], to: [left, bottom], plane: 0, owner, nPanels }, corners);
  });
  return panelSet(rows);
}

function panelSet(rows: readonly (readonly number[])[]): PanelSet {
  const column = (c: number): Float64Array => Float64Array.from(rows, (row) => row[c]!);
  return {
    n: rows.length,
    x: column(0),
    y: column(1),
    half: column(2),
    isUpright: Uint8Array.from(rows, (row) => row[3]!),
    plane: Int8Array.from(rows, (row) => row[4]!),
    owner: Int32Array.from(rows, (row) => row[5]!),
  };
}

/** The panels right of x = 0: one of each mirrored pair. */
export function rightHalf(panels: PanelSet): PanelSet {
  const rows: number[][] = [];
  for (let i = 0; i < panels.n; i++) {
    if (panels.x[i]! > 0)
      rows.push([panels.x[i]!, panels.y[i]!, panels.half[i]!, panels.isUpright[i]!, panels.plane[i]!, panels.owner[i]!]);
  }
  return panelSet(rows);
}

/** Integral of ln r² over a panel of half length `half`, seen from a point `along` and `off` its middle. */
export function logIntegral(along: number, off: number, half: number): number {
  const a = along - half;
  const b = along + half;
  const off2 = off * off;
  // ∫ ln(t² + h²) dt = t ln(t² + h²) - 2 t + 2 h atan(t/h); on the panel's own line the last term vanishes.
  const ends =
    (b === 0 && off2 === 0 ? 0 : b * Math.log(b * b + off2)) - (a === 0 && off2 === 0 ? 0 : a * Math.log(a * a + off2));
  const turn = off2 === 0 ? 0 : 2 * off * Math.atan2(2 * half * off, off2 + a * b);
  return ends - 4 * half + turn;
}
