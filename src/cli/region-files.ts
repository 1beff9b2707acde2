/** A region as data. */
import { siUnitText } from "#base";
import { partWhere, type Region } from "#chip";

const orNull = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** The region as data, all in SI. */
export function regionToJson(region: Region): string {
  const axis = ({ name, key, low, high, present, dimension }: Region["x"]) => ({
    name,
    key,
    unit: siUnitText(dimension),
    low,
    high,
    present,
  });
  const design = (at: Region["present"]) =>
    at === undefined ? null : { x: at.x, y: at.y, chance: at.chance, values: [...at.values].map(orNull) };
  return JSON.stringify(
    {
      form: "waferwright region",
      version: 1,
      x: axis(region.x),
      y: axis(region.y),
      side: region.side,
      present: design(region.present),
      best: design(region.best),
      freePart: partWhere(region, (k) => region.free[k] === 1),
      limits: region.limits.map(({ label, requirement, dimension, error, edges }) => ({
        label,
        requirement,
        unit: siUnitText(dimension),
        error: orNull(error),
        edges: edges.map((edge) => ({
          fence: edge.fence,
          kind: edge.kind,
          closed: edge.closed,
          solvedPoints: edge.nExact,
          error: orNull(edge.error),
          points: [...edge.line],
        })),
      })),
      contours: region.contours.map(({ chance, lines }) => ({ chance, lines: lines.map((line) => [...line]) })),
      reasons: region.reasons,
      designs: region.nDesigns,
    },
    undefined,
    1,
  );
}
