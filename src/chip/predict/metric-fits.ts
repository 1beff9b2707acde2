/** Whether a device can have a metric at all, by what it is made of: the sentence where it cannot. */
import type { DeviceModel, Drawing } from "#devices";
import { unknownWord } from "../brief/requirements.ts";
import type { Metric } from "../metrics/vocabulary.table.ts";

interface Asked {
  readonly device: string;
  /** Point or part, where the metric is about one. */
  readonly where: string | undefined;
}

/** The sentence, or undefined where the device has what is asked about. */
export function whyNotOf(built: DeviceModel["parts"]["device"], metric: Metric, asked: Asked): string | undefined {
  const { drawing } = built;
  const { word } = metric;
  const { device, where } = asked;
  if (metric.has === "output" && drawing.output === undefined)
    return `${word} is of the output of a device, and devices.${device} has none. A composition states one under output; motion along y of a point needs none.`;
  if (metric.has === "light" && drawing.light === undefined)
    return `${word} is of a device with slits over slits, and devices.${device} has no light stated. A composition with a slit blade states it under light.`;
  if (where === undefined) return undefined;
  return metric.where === "point" ? whyNoPoint(built, where) : whyNoPart(drawing, metric, where);
}

function whyNoPoint({ drawing: { points }, siteAt }: DeviceModel["parts"]["device"], where: string): string | undefined {
  const place = points.get(where);
  if (place === undefined) return unknownWord("a point of the device", where, [...points.keys()]);
  if (siteAt(place) !== undefined) return undefined;
  return `"${where}" lies on no part. A beam must end or have its joint there, or a plate lie there.`;
}

function whyNoPart({ parts }: Drawing, { word, kinds = [] }: Metric, where: string): string | undefined {
  const fits = parts.filter(({ kind }) => kinds.some((wanted) => wanted === kind)).map(({ name }) => name);
  const found = parts.find(({ name }) => name === where);
  if (found === undefined) return unknownWord(`a part of the device that ${word} could be of`, where, fits);
  if (fits.includes(where)) return undefined;
  const others = fits.length === 0 ? "and the device has none" : `such as ${fits.slice(0, 5).join(", ")}`;
  const article = (kind: string): string => `${/^[aeiou]/.test(kind) ? "an" : "a"} ${kind}`;
  return `"${where}" is ${found.kind === "metal" ? "metal" : article(found.kind)}: ${word} is of ${kinds.map(article).join(" or ")}, ${others}.`;
}
