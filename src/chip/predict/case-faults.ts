/** What keeps a device from being looked at in an operating case, found before anything is solved. */
import { type DeviceModel, findFeedFaults, wiredNets } from "#devices";
import { unknownWord } from "../brief/requirements.ts";
import type { CaseText } from "./case-drive.ts";

interface At {
  readonly device: string;
  readonly caseName: string;
  readonly text: CaseText;
}

/** Sentences; empty where there is nothing. */
export function faultsOfCase(model: DeviceModel, at: At): readonly string[] {
  const { text, device, caseName } = at;
  const isFed = text["uniform rise"] === undefined && text["uniform strain"] === undefined;
  return [
    ...(isFed ? feedFaults(model, at) : warmthFaults(model, at)),
    ...(isFed ? strayWarmth(at) : []),
    ...loadFaults(model, at),
    ...(text["apex load"] !== undefined && model.parts.device.drawing.output === undefined
      ? [`The case "${caseName}" has an apex load, but devices.${device} has no output that it could act on.`]
      : []),
  ];
}

function feedFaults(model: DeviceModel, { text, device, caseName }: At): readonly string[] {
  const faults = findFeedFaults(model.parts);
  if (faults.length > 0) return faults.map(({ message }) => `The case "${caseName}" cannot feed devices.${device}: ${message}.`);
  const further = wiredNets(model.parts).filter((net) => net !== "plus" && net !== "minus");
  return [...(text.potentials?.keys() ?? [])].flatMap((net) => {
    if (further.includes(net)) return [];
    if (net === "plus" || net === "minus")
      return [`The case "${caseName}" gives a potential to "${net}": the drive sets that one. Name another net.`];
    return [`The case "${caseName}" names a net: ${unknownWord(`a further net of devices.${device}`, net, further)}`];
  });
}

/** A device that a current warms takes no warmth from the text. */
function strayWarmth({ text, caseName }: At): readonly string[] {
  return (["part rises", "part strains"] as const).flatMap((word) =>
    text[word] === undefined
      ? []
      : [`The case "${caseName}" has ${word}, but a current warms it: they stand beside a uniform rise or strain.`],
  );
}

/** Parts that are warmed by another amount. */
function warmthFaults(model: DeviceModel, { text, device, caseName }: At): readonly string[] {
  const names = model.parts.device.drawing.parts.flatMap(({ kind, name }) => (kind === "beam" || kind === "plate" ? [name] : []));
  const stray = text["uniform rise"] === undefined ? "part rises" : "part strains";
  if (text[stray] !== undefined)
    return [
      `The case "${caseName}" has ${stray} without uniform ${stray.slice("part ".length, -1)}: they stand beside each other.`,
    ];
  return (["part rises", "part strains"] as const).flatMap((word) =>
    [...(text[word]?.keys() ?? [])].flatMap((name) =>
      names.includes(name)
        ? []
        : [
            `The case "${caseName}" names a part under ${word}: ${unknownWord(`a beam or plate of devices.${device}`, name, names)}`,
          ],
    ),
  );
}

function loadFaults(model: DeviceModel, { text, device, caseName }: At): readonly string[] {
  const { frame, device: built } = model.parts;
  const { points } = built.drawing;
  return (["forces", "held"] as const).flatMap((word) =>
    [...(text[word]?.keys() ?? [])].flatMap((name) => {
      const place = points.get(name);
      const at = `The case "${caseName}" names a point under ${word}:`;
      if (place === undefined) return [`${at} ${unknownWord(`a point of devices.${device}`, name, [...points.keys()])}`];
      if (frame.siteAt(place) !== undefined) return [];
      return [`${at} "${name}" lies on no part. A beam must end or have its joint there, or a plate lie there.`];
    }),
  );
}
