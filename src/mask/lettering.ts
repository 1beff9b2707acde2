/**
 * Words as polygons for plates. Letters are filled outlines with their counters as holes: right for metal; in silicon a closed counter
 * would be a loose island, so titles in silicon are not made.
 * Corners are rounded to the mask grid; curves are chords within 1/400 of the em. Main test: lettering.test.ts.
 */
import { type Polygon, polygonFrom, unionOf } from "#geometry";
import { capitalHeight, glyphs } from "./glyphs.generated.ts";

export interface LetteringOptions {
  /** Height of a capital letter, [dbu]. */
  readonly height: number;
}

/** Polygons of a line of text, its baseline from (0, 0) to the right. Throws RangeError for a letter that plates do not carry. */
export function textPolygons(text: string, options: LetteringOptions): readonly Polygon[] {
  const scale = options.height / capitalHeight;
  let x = 0;
  const outlines: Polygon[] = [];
  for (const character of text.replaceAll("\u03bc", "µ").replaceAll("\u2126", "Ω")) {
    const glyph = glyphs.get(character);
    if (glyph === undefined)
      throw new RangeError(`Cannot write "${character}" on a plate: wanted letters, digits, signs of ASCII, µ, Ω or ±`);
    for (const contour of glyph.contours) {
      const points = contour.map((value, i) => Math.round((i % 2 === 0 ? value + x : value) * scale));
      // fonts wind outer contours clockwise with y up: turned round so that filled is counter-clockwise
      const reversed: number[] = [];
      for (let i = points.length - 2; i >= 0; i -= 2) reversed.push(points[i]!, points[i + 1]!);
      outlines.push(polygonFrom(reversed));
    }
    x += glyph.advance;
  }
  return unionOf(outlines);
}
