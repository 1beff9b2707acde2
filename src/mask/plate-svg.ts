/**
 * A plate as a picture: clear glass with ink, at its true size in millimetres, y up as on the wafer.
 */
import { boundingBox, metresFromDbu, type Polygon } from "#geometry";

export interface PlateSvgOptions {
  readonly title: string;
  /** What is inked, [dbu]. */
  readonly polygons: readonly Polygon[];
  /** Outline of the die, [dbu]. */
  readonly outline: Polygon;
  /** Colours of ink and glass. */
  readonly ink: string;
  readonly glass: string;
}

const micrometres = (dbu: number): string => String(Number((metresFromDbu(dbu) * 1e6).toFixed(3)));

function escapeText(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

/** SVG text; one unit is a micrometre. */
export function formatPlateSvg(options: PlateSvgOptions): string {
  const box = boundingBox([options.outline])!;
  const [width, height] = [box.right - box.left, box.top - box.bottom];
  const path = options.polygons
    .map((polygon) => {
      const points: string[] = [];
      for (let i = 0; i < polygon.length; i += 2) points.push(`${micrometres(polygon[i]! - box.left)} ${micrometres(box.top - polygon[i + 1]!)}`);
      return `M${points.join("L")}Z`;
    })
    .join("");
  const mm = (dbu: number): string => `${Number((metresFromDbu(dbu) * 1e3).toFixed(4))}mm`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width)}" height="${mm(height)}" viewBox="0 0 ${micrometres(width)} ${micrometres(height)}">`,
    `<title>${escapeText(options.title)}</title>`,
    `<desc>Seen from above at true size; ink is what the plate data say.</desc>`,
    `<rect width="100%" height="100%" fill="${options.glass}"/>`,
    `<path d="${path}" fill="${options.ink}" fill-rule="evenodd"/>`,
    "</svg>",
    "",
  ].join("\n");
}
