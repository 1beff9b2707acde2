/**
 * Readings, resolved: found values of quantities (they stand in on the as-built side), found values of metrics (they stand beside the
 * predictions in the ledger), and files of instrument data, which are kept by name for later evaluation.
 */
import { ExpressionError, type Phrase, type Place, parsePhrase, type TextProblem } from "#base";
import { namesOf, unknownWord } from "../brief/requirements.ts";
import type { Description } from "../description.ts";
import { type Addresses, pathKey } from "../evaluate/addresses.ts";
import type { Substitute } from "../evaluate/scope.ts";
import { findMetric, type Metric } from "../metrics/vocabulary.table.ts";
import { placeOfPath } from "../text/find-node.ts";

/** A metric that was measured. */
export interface MetricReading {
  readonly metric: Metric;
  readonly caseName: string | undefined;
  readonly device: string;
  readonly found: Phrase;
  readonly place: Place;
  /** Where the found value stands. */
  readonly foundPlace: Place;
}

export interface Readings {
  /** By path key: the reading that counts, which is the latest by date, the last in the text among equals. */
  readonly substitutes: ReadonlyMap<string, Substitute>;
  readonly metricReadings: readonly MetricReading[];
  readonly files: readonly string[];
  readonly problems: readonly TextProblem[];
}

const example = 'write for example "of: undercut per edge" and "found: measured 1.1 um ± 0.05 um, microscope, 2026-11-20"';

export function resolveReadings(description: Description, addresses: Addresses): Readings {
  const problems: TextProblem[] = [];
  const substitutes = new Map<string, Substitute>();
  const metricReadings: MetricReading[] = [];
  const files: string[] = [];
  const names = namesOf(description);
  const complain = (path: readonly string[], message: string): undefined => {
    problems.push({ place: placeOfPath(description.parsed, path), message });
    return undefined;
  };

  const takeMetric = (
    metric: Metric,
    entry: { at?: string; device?: string },
    reading: { found: Phrase; path: readonly string[] },
  ): undefined => {
    const device = entry.device ?? (names.devices.length === 1 ? names.devices[0] : undefined);
    if (device === undefined || !names.devices.includes(device))
      return complain(reading.path, `This reading needs "device": one of ${names.devices.join(", ")}.`);
    if (metric.stands === "case" && entry.at === undefined)
      return complain(
        reading.path,
        `This reading lacks "at": ${metric.word} stands at an operating case, one of ${names.cases.join(", ")}.`,
      );
    if (entry.at !== undefined && !names.cases.includes(entry.at)) {
      return complain(
        [...reading.path, "at"],
        `Cannot read this reading: ${unknownWord("an operating case of the section drive", entry.at, names.cases)}`,
      );
    }
    metricReadings.push({
      metric,
      caseName: entry.at,
      device,
      found: reading.found,
      place: placeOfPath(description.parsed, reading.path),
      foundPlace: placeOfPath(description.parsed, [...reading.path, "found"]),
    });
    return undefined;
  };

  for (const [index, entry] of (description.sections.readings ?? []).entries()) {
    const path = ["readings", String(index + 1)];
    if (entry.file !== undefined) files.push(entry.file);
    if (entry.of === undefined && entry.found === undefined) {
      if (entry.file === undefined) complain(path, `This reading says neither what was found nor names a file: ${example}.`);
      continue;
    }
    if (entry.of === undefined || entry.found === undefined) {
      complain(path, `This reading lacks "${entry.of === undefined ? "of" : "found"}": ${example}.`);
      continue;
    }
    const found = readFound(entry.found, (message, offset = 0) => {
      const place = placeOfPath(description.parsed, [...path, "found"]);
      problems.push({ place: { ...place, column: place.column + offset }, message });
    });
    if (found === undefined) continue;
    const metric = findMetric(entry.of);
    if (metric !== undefined) {
      takeMetric(metric, entry, { found, path });
      continue;
    }
    const address = addresses.find(entry.of);
    if (address.kind !== "one") {
      complain(
        [...path, "of"],
        `Cannot read this reading: ${addresses.explain(entry.of, address)} A metric of the vocabulary may stand here too.`,
      );
      continue;
    }
    const key = pathKey(address.quantity.path);
    const before = substitutes.get(key);
    if (before?.phrase.date !== undefined && found.date !== undefined && found.date < before.phrase.date) continue;
    substitutes.set(key, { phrase: found, text: entry.found, place: placeOfPath(description.parsed, [...path, "found"]) });
  }
  return { substitutes, metricReadings, files, problems };
}

function readFound(text: string, complain: (message: string, offset?: number) => void): Phrase | undefined {
  try {
    const phrase = parsePhrase(text);
    if (phrase.evidence !== undefined && phrase.evidence !== "measured") {
      complain(`A reading is measured, not ${phrase.evidence}: ${example}.`);
      return undefined;
    }
    if (phrase.date === undefined) {
      complain(
        `This reading has no date: end it with the day, year first, as in "measured 1.1 um ± 0.05 um, microscope, 2026-11-20".`,
      );
      return undefined;
    }
    return { ...phrase, evidence: "measured" };
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    complain(`Cannot read what was found: ${error.message}.`, error.at);
    return undefined;
  }
}
