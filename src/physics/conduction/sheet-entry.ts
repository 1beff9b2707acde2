/**
 * Heat that enters a conducting sheet (silicon) at a stretch of one edge and leaves through its base evenly by area.
 *
 * For an anchor whose beams join at one edge: the temperature at the beams stands above the mean of the anchor. Cosine series along
 * the edge, one fin per mode (derived here): R = sum e_n D_n² coth(mu_n a)/(k t mu_n b), mu_n² = (n pi/b)² + 1/(k t A R_base), with e_0 = 1,
 * e_n = 2, D_n the mean of cos(n pi y/b) over the stretch. A = a b; the n = 0 term alone is the fin of the whole width.
 * Validity: sheet thin against its sizes; base loss even by area, which understates the loss at the edges: the spread over the source is
 * overstated by a few per cent of the part that the sheet adds. Main test: sheet-entry.test.ts.
 */

export interface SheetEntry {
  /** Size of the sheet away from the edge that is entered [m]. */
  readonly depth: number;
  /** Size of the sheet along the edge that is entered [m]. */
  readonly width: number;
  /** Conductivity × thickness of the sheet [W/K]. */
  readonly sheetConductance: number;
  /** Resistance below the whole sheet [K/W], for example `spreadingResistance(...).isothermal`. */
  readonly baseResistance: number;
  /** The stretch of the edge where heat enters: its middle from the sheet's corner, and its length [m]. */
  readonly entry: { readonly middle: number; readonly length: number };
}

/** The series is cut where a term is below this part of the sum; what is left out is smaller than the model's own error. */
const smallestTerm = 1e-7;
const mostTerms = 20_000;

/** Mean temperature of the entered stretch per watt [K/W], base included. */
export function sheetEntryResistance(sheet: SheetEntry): number {
  const { depth, width, sheetConductance, baseResistance, entry } = sheet;
  const isWhole = depth > 0 && width > 0 && sheetConductance > 0 && baseResistance > 0;
  const fits =
    entry.length > 0 &&
    entry.middle - entry.length / 2 >= -1e-12 * width &&
    entry.middle + entry.length / 2 <= width * (1 + 1e-12);
  if (!isWhole || !fits) {
    throw new RangeError(
      `Cannot lead heat into the sheet: wanted sizes, conductance and resistance above zero and a stretch on the edge of ${width} m, ` +
        `found ${entry.length} m about ${entry.middle} m, depth ${depth} m, ${sheetConductance} W/K and ${baseResistance} K/W`,
    );
  }
  const loss = 1 / (sheetConductance * depth * width * baseResistance);
  let sum = 0;
  for (let n = 0; n < mostTerms; n++) {
    const wave = (n * Math.PI) / width;
    const rate = Math.sqrt(wave * wave + loss);
    const half = (wave * entry.length) / 2;
    const shape = n === 0 ? 1 : Math.sin(half) / half;
    const bound = (n === 0 ? 1 : 2) / (Math.tanh(rate * depth) * sheetConductance * rate * width);
    sum += bound * (shape * Math.cos(wave * entry.middle)) ** 2;
    // The envelope without the cosines: a single term may vanish by chance.
    if (n > 0 && bound / Math.max(half * half, 1) < smallestTerm * sum) break;
  }
  return sum;
}
