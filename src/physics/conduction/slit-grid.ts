/**
 * Heat from a wide plate with long parallel slits to the plane below, over that of the plate without slits.
 *
 * One period of an endless grid of bars by boundary elements, all images along the grid in one kernel: ln|2 sin(pi z/p)|. Above an
 * endless hot grid the gas is hot, so only the underside and the slits lose heat; what leaves over the top of a plate of finite width
 * belongs to its edges (`plateEdgeFactor`). Deep slits far apart: the factor of [carter1901] FROM MEMORY, an exact conformal map.
 * Validity: both gap and slit many mean free paths wide, or widened by the jump distances; bars all at one temperature; many slits.
 * Error below 1e-3 at the default 10 panels a side. Main test: slit-grid.test.ts.
 */

import { factorInPlace, gaussLegendreRule, solveInto } from "#numerics";
import { logIntegral, makePanels, type PanelSet } from "./panels.ts";

export interface SlitGrid {
  /** Width of a bar and of a slit [m]. */
  readonly bar: number;
  readonly slit: number;
  /** Distance of the bars from the plane [m]. */
  readonly gap: number;
  /** [m] */
  readonly thickness: number;
}

const panelsPerSide = 10;
/** The kernel less its nearest logarithms is smooth over a panel: four points integrate it to 1e-6. */
const rule = gaussLegendreRule(4);

/** Heat over (conductivity × difference × area/gap), area that of bars and slits together. Below 1, above the share of the bars. */
export function slitGridFactor(grid: SlitGrid): number {
  const { bar, slit, gap, thickness } = grid;
  for (const [name, value] of Object.entries({ bar, slit, gap, thickness })) {
    if (!(value > 0 && value < Number.POSITIVE_INFINITY))
      throw new RangeError(`Cannot tell the heat of a slit grid: wanted a finite ${name} above zero, found ${value} m`);
  }
  // In units of the period.
  const unit = bar + slit;
  const panels = makePanels(
    [{ x: 0, width: bar / unit, height: thickness / unit, gap: gap / unit, potential: "hot" }],
    panelsPerSide,
  );
  const { n, x, y } = panels;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      matrix[i * n + j] = (panelPotential(panels, j, x[i]!, -y[i]!) - panelPotential(panels, j, x[i]!, y[i]!)) / (2 * Math.PI);
    }
  }
  const charge = new Float64Array(n).fill(1);
  const pivots = new Int32Array(n);
  factorInPlace(matrix, n, pivots);
  solveInto(charge, matrix, n, pivots);
  const total = charge.reduce((sum, value, j) => sum + value * 2 * panels.half[j]!, 0);
  return (total * gap) / unit;
}

/** ∫ ln|2 sin(pi z)| over panel j seen from (x, y), period 1: three nearest logarithms in closed form, the smooth rest by points. */
function panelPotential(panels: PanelSet, j: number, x: number, y: number): number {
  const half = panels.half[j]!;
  const upright = panels.isUpright[j] === 1;
  const dx = x - panels.x[j]!;
  const dy = y - panels.y[j]!;
  let sum = 0;
  for (let image = -1; image <= 1; image++) {
    sum += (upright ? logIntegral(dy, dx - image, half) : logIntegral(dx - image, dy, half)) / 2;
  }
  for (let q = 0; q < rule.nodes.length; q++) {
    const along = half * rule.nodes[q]!;
    sum += half * rule.weights[q]! * smoothRest(upright ? dx : dx - along, upright ? dy - along : dy);
  }
  return sum;
}

/** ln|2 sin(pi z)| less the logarithms of the distances to z = -1, 0, 1. */
function smoothRest(x: number, y: number): number {
  const decay = Math.exp(-2 * Math.PI * Math.abs(y));
  // |2 sin(pi z)|² = exp(2 pi |y|) [(1 - e)² + 4 e sin²(pi x)], e = exp(-2 pi |y|): no overflow and no cancellation.
  const sine = Math.sin(Math.PI * x);
  const own = Math.PI * Math.abs(y) + Math.log((1 - decay) ** 2 + 4 * decay * sine * sine) / 2;
  return own - Math.log((x * x + y * y) * ((x - 1) ** 2 + y * y) * ((x + 1) ** 2 + y * y)) / 2;
}
