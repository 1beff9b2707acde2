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
  /** Index into the list of rectangles. */
  readonly owner: Int32Array;
}

/** Appends panels of one side, cosine-spaced: towards a corner the charge grows as distance^(-1/3), and the panels shrink with it. */
function addSide(
  rows: number[][],
  side: { from: readonly [number, number]; to: readonly [number, number]; owner: number; nPanels: number },
): void {
  const { from, to, owner, nPanels } = side;
  const isUpright = from[0] === to[0] ? 1 : 0;
  const length = Math.abs(to[0] - from[0]) + Math.abs(to[1] - from[1]);
  for (let i = 0; i < nPanels; i++) {
    const a = (1 - Math.cos((Math.PI * i) / nPanels)) / 2;
    const b = (1 - Math.cos((Math.PI * (i + 1)) / nPanels)) / 2;
    const middle = (a + b) / 2;
    rows.push([
      from[0] + (to[0] - from[0]) * middle,
      from[1] + (to[1] - from[1]) * middle,
      ((b - a) * length) / 2,
      isUpright,
      owner,
    ]);
  }
}

/**
 * Panels on every rectangle. A rectangle that stands on the plane has no panels below: its charge there would meet its own mirror image.
 * Every side gets an even number, so that a section symmetric about x = 0 has its panels in mirrored pairs.
 */
export function makePanels(rectangles: readonly CrossSection[], nPanelsPerSide: number): PanelSet {
  const rows: number[][] = [];
  const nPanels = 2 * Math.max(1, Math.round(nPanelsPerSide / 2));
  rectangles.forEach(({ x, width, height, gap }, owner) => {
    const [left, right, bottom, top] = [x - width / 2, x + width / 2, gap, gap + height];
    if (gap > 0) addSide(rows, { from: [left, bottom], to: [right, bottom], owner, nPanels });
    addSide(rows, { from: [right, bottom], to: [right, top], owner, nPanels });
    addSide(rows, { from: [right, top], to: [left, top], owner, nPanels });
    addSide(rows, { from: [left, top], to: [left, bottom], owner, nPanels });
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
    owner: Int32Array.from(rows, (row) => row[4]!),
  };
}

/** The panels right of x = 0: one of each mirrored pair. */
export function rightHalf(panels: PanelSet): PanelSet {
  const rows: number[][] = [];
  for (let i = 0; i < panels.n; i++) {
    if (panels.x[i]! > 0) rows.push([panels.x[i]!, panels.y[i]!, panels.half[i]!, panels.isUpright[i]!, panels.owner[i]!]);
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
