/**
 * A plate as a picture: clear glass with ink, at its true size in millimetres, y up as on the wafer. Overlaps are inked once.
 * Main test: plate-svg.test.ts.
 */
import { boundingBox, metresFromDbu, type Polygon } from "#geometry";

export interface PlateSvgOptions {
  readonly title: string;
  /** What is inked, [dbu]. */
  readonly polygons: readonly Polygon[];
  /** Outline of the die, [dbu]. */
  readonly outline: Polygon;
  /** A second plate shown over the first by its outlines alone, [dbu]. */
  readonly over?: readonly Polygon[];
  /** Colours of ink, glass and the outlines of the second plate. */
  readonly ink: string;
  readonly glass: string;
  readonly overInk?: string;
}

const micrometres = (dbu: number): string => String(Number((metresFromDbu(dbu) * 1e6).toFixed(3)));

function escapeText(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

/** SVG text; one unit is a micrometre. */
export function formatPlateSvg(options: PlateSvgOptions): string {
  const box = boundingBox([options.outline])!;
  const [width, height] = [box.right - box.left, box.top - box.bottom];
  const pathOf = (polygons: readonly Polygon[]): string =>
    polygons
      .map((polygon) => {
        const points: string[] = [];
        for (let i = 0; i < polygon.length; i += 2)
          points.push(`${micrometres(polygon[i]! - box.left)} ${micrometres(box.top - polygon[i + 1]!)}`);
        return `M${points.join("L")}Z`;
      })
      .join("");
  const over =
    options.over === undefined
      ? []
      : [
          `<path d="${pathOf(options.over)}" fill="none" stroke="${options.overInk ?? options.ink}" stroke-width="1.25" vector-effect="non-scaling-stroke"/>`,
        ];
  const mm = (dbu: number): string => `${Number((metresFromDbu(dbu) * 1e3).toFixed(4))}mm`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width)}" height="${mm(height)}" viewBox="0 0 ${micrometres(width)} ${micrometres(height)}">`,
    `<title>${escapeText(options.title)}</title>`,
    `<desc>Seen from above at true size; ink is what the plate data say.</desc>`,
    `<rect width="100%" height="100%" fill="${options.glass}"/>`,
    `<path d="${pathOf(options.polygons)}" fill="${options.ink}" fill-rule="nonzero"/>`,
    ...over,
    "</svg>",
    "",
  ].join("\n");
}
