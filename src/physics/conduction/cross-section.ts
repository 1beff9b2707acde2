/**
 * A rectangular cross-section of a body above the plane y = 0.
 */

export interface CrossSection {
  /** Position of the middle [m]. */
  readonly x: number;
  /** [m] */
  readonly width: number;
  /** [m] */
  readonly height: number;
  /** Distance of the bottom from the plane [m]; 0 where a cold body stands on the plane. */
  readonly gap: number;
  /** "hot": the one common temperature above the plane; "cold": the temperature of the plane. */
  readonly potential: "hot" | "cold";
}

/** Refuses what cannot be solved: empty bodies, hot bodies on the plane, bodies that touch or overlap. */
export function requireCrossSections(rectangles: readonly CrossSection[]): void {
  for (const [i, { x, width, height, gap, potential }] of rectangles.entries()) {
    if (!(Number.isFinite(x) && width > 0 && height > 0 && Number.isFinite(width + height + gap))) {
      throw new RangeError(
        `Cannot find the conduction of body ${i}: wanted finite sizes above zero, found ${width} m × ${height} m at ${x} m`,
      );
    }
    if (!(potential === "hot" ? gap > 0 : gap >= 0)) {
      throw new RangeError(`Cannot find the conduction of body ${i}: wanted a gap above zero under a hot body, found ${gap} m`);
    }
    for (let j = 0; j < i; j++) {
      const other = rectangles[j]!;
      const beside = Math.abs(x - other.x) - (width + other.width) / 2;
      const above = Math.max(gap - other.gap - other.height, other.gap - gap - height);
      if (beside <= 0 && above <= 0)
        throw new RangeError(`Cannot find the conduction: wanted separate bodies, found body ${j} touching body ${i}`);
    }
  }
}
