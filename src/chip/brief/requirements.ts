/**
 * The brief, resolved: each requirement with its limits, the metric each limit is on, and the operating case where it stands.
 */
import { ExpressionError, nearestName, type Phrase, type Place, parsePhrase, type TextProblem } from "#base";
import type { Description } from "../description.ts";
import type { Scope } from "../evaluate/scope.ts";
import { findMetric, type Metric, metricWords, noModel } from "../metrics/vocabulary.table.ts";
import { placeOfPath } from "../text/find-node.ts";
import { evaluateNeed, type Need, type NeedText, parseNeed } from "./need.ts";

export interface LimitOf {
  readonly need: NeedText;
  /** The limit as written. */
  readonly text: string;
  /** Undefined where no model can prove it. */
  readonly metric: Metric | undefined;
  readonly caseName: string | undefined;
  readonly device: string;
  /** Value that the metric needs, for example the travel of "pad voltage for travel". */
  readonly argument: Phrase | undefined;
  /** Point or part that the metric is about. */
  readonly where: string | undefined;
  readonly place: Place;
  /** Where the words of the limit, of its "for" and of its "where" stand. */
  readonly needPlace: Place;
  readonly argumentPlace: Place;
  readonly wherePlace: Place;
}

export interface Requirement {
  readonly name: string;
  readonly limits: readonly LimitOf[];
  readonly why: string | undefined;
  readonly proof: string | undefined;
}

/** A limit of a requirement, evaluated. Throws EvaluationError when its dimension is not the metric's. */
export function needOf(scope: Scope, limit: LimitOf, of: { readonly requirement: string; readonly metric: Metric }): Need {
  return evaluateNeed(limit.need, scope, {
    place: limit.place,
    name: `the requirement "${of.requirement}"`,
    metric: of.metric,
  });
}

interface LimitText {
  readonly need: string;
  readonly of: string;
  readonly at?: string;
  readonly for?: string;
  readonly where?: string;
  readonly device?: string;
}

/** Names that the brief and the readings may refer to. */
export interface Names {
  readonly cases: readonly string[];
  /** Cases at which the chip comes to rest: those without steps. */
  readonly steadyCases: readonly string[];
  readonly devices: readonly string[];
}

export function namesOf(description: Description): Names {
  const { cases } = description.sections.drive;
  return {
    cases: [...cases.keys()],
    steadyCases: [...cases].filter(([, text]) => text.steps === undefined).map(([name]) => name),
    devices: [...description.sections.devices.keys()],
  };
}

function listed(words: readonly string[]): string {
  return words.length > 12 ? `${words.slice(0, 12).join(", ")} and ${words.length - 12} more` : words.join(", ");
}

/** The sentence for a word that is not among those allowed. */
export function unknownWord(what: string, word: string, allowed: readonly string[]): string {
  const nearest = nearestName(word, allowed);
  const known = allowed.length === 0 ? "There is none yet." : `Known are ${listed(allowed)}.`;
  return `"${word}" is not ${what}. ${nearest === undefined ? known : `The nearest is "${nearest}".`}`;
}

/** An example of what stands under "for", by its dimension. */
const exampleOf: Readonly<Partial<Record<string, string>>> = {
  length: "10 um",
  acceleration: "500 gn",
  number: "1",
  frequency: "1 kHz",
};

class BriefReader {
  readonly problems: TextProblem[] = [];
  private readonly names: Names;

  constructor(private readonly description: Description) {
    this.names = namesOf(description);
  }

  read(): Requirement[] {
    const seen = new Set<string>();
    return (this.description.sections.brief ?? []).flatMap((entry, i) => {
      const path = ["brief", String(i + 1)];
      if (seen.has(entry.name))
        this.complain([...path, "name"], `Two requirements are called "${entry.name}": give each its own name.`);
      seen.add(entry.name);
      const limits = this.limitsOf(entry, path);
      return limits === undefined ? [] : [{ name: entry.name, limits, why: entry.why, proof: entry.proof }];
    });
  }

  private complain(path: readonly string[], message: string): undefined {
    this.problems.push({ place: placeOfPath(this.description.parsed, path), message });
    return undefined;
  }

  private limitsOf(
    entry: {
      name: string;
      need?: string;
      of?: string;
      at?: string;
      for?: string;
      where?: string;
      device?: string;
      limits?: readonly LimitText[];
    },
    path: readonly string[],
  ): LimitOf[] | undefined {
    const { need, of, limits } = entry;
    if (limits !== undefined) {
      if (need !== undefined || of !== undefined)
        return this.complain(path, `"${entry.name}" has both "limits" and a limit of its own: move that limit under "limits".`);
      if (limits.length === 0)
        return this.complain(path, `"${entry.name}" has an empty list of limits: write at least one, each with need and of.`);
      return limits.flatMap(
        (limit, i) => this.limitOf(limit, { name: entry.name, path: [...path, "limits", String(i + 1)] }) ?? [],
      );
    }
    if (of === undefined)
      return this.complain(path, `"${entry.name}" lacks "of": say which metric the limit is on, for example steady travel.`);
    if (need === undefined && of !== noModel)
      return this.complain(path, `"${entry.name}" lacks "need": say the limit, for example at least 11 um.`);
    const single: LimitText = {
      need: need ?? "",
      of,
      ...(entry.at !== undefined && { at: entry.at }),
      ...(entry.for !== undefined && { for: entry.for }),
      ...(entry.where !== undefined && { where: entry.where }),
      ...(entry.device !== undefined && { device: entry.device }),
    };
    const limit = this.limitOf(single, { name: entry.name, path });
    return limit === undefined ? undefined : [limit];
  }

  private limitOf(limit: LimitText, at: { name: string; path: readonly string[] }): LimitOf | undefined {
    const place = placeOfPath(this.description.parsed, at.path);
    const placeIn = (field: string): Place => placeOfPath(this.description.parsed, [...at.path, field]);
    const places = {
      place,
      needPlace: placeIn("need"),
      argumentPlace: placeIn("for"),
      wherePlace: limit.where === undefined ? placeIn("of") : placeIn("where"),
    };
    const device = this.deviceOf(limit, at);
    if (limit.of === noModel) {
      return {
        need: { kind: "at least", limit: parsePhrase("0"), signed: false },
        text: limit.need,
        metric: undefined,
        caseName: undefined,
        device: device ?? "",
        argument: undefined,
        where: undefined,
        ...places,
      };
    }
    const metric = findMetric(limit.of);
    if (metric === undefined)
      return this.complain(
        [...at.path, "of"],
        `Cannot read the requirement "${at.name}": ${unknownWord("a metric", limit.of, [...metricWords, noModel])}`,
      );
    const need = this.needOf(limit.need, at);
    const caseName = this.caseOf(limit, metric, at);
    const argument = this.argumentOf(limit, metric, at);
    if (!this.whereFits(limit, metric, at)) return undefined;
    if (need === undefined || device === undefined || caseName === null || argument === null) return undefined;
    return { need, text: limit.need, metric, caseName, device, argument, where: limit.where, ...places };
  }

  private whereFits(limit: LimitText, metric: Metric, at: { name: string; path: readonly string[] }): boolean {
    if ((metric.where === undefined) === (limit.where === undefined)) return true;
    if (metric.where === undefined)
      this.complain(
        [...at.path, "where"],
        `Cannot read the requirement "${at.name}": ${metric.word} is of the whole device and takes no "where". Delete the line.`,
      );
    else
      this.complain(
        at.path,
        `The requirement "${at.name}" lacks "where": ${metric.word} is of a ${metric.where}, for example where: ${metric.where === "point" ? "tip" : "hot arm"}.`,
      );
    return false;
  }

  private needOf(text: string, at: { name: string; path: readonly string[] }): NeedText | undefined {
    try {
      return parseNeed(text);
    } catch (error) {
      if (!(error instanceof ExpressionError)) throw error;
      const place = placeOfPath(this.description.parsed, [...at.path, "need"]);
      const message = `Cannot read the requirement "${at.name}": ${error.message}.`;
      this.problems.push({ place: { ...place, column: place.column + error.at }, message });
      return undefined;
    }
  }

  private deviceOf(limit: LimitText, at: { name: string; path: readonly string[] }): string | undefined {
    const { devices } = this.names;
    if (limit.device === undefined) {
      if (devices.length === 1) return devices[0];
      return this.complain(
        at.path,
        `The requirement "${at.name}" lacks "device": the chip has ${devices.length === 0 ? "none yet" : `several (${listed(devices)})`}.`,
      );
    }
    return devices.includes(limit.device)
      ? limit.device
      : this.complain(
          [...at.path, "device"],
          `Cannot read the requirement "${at.name}": ${unknownWord("a device of this chip", limit.device, devices)}`,
        );
  }

  /** The case, undefined where the metric needs none, null where something is wrong. */
  private caseOf(limit: LimitText, metric: Metric, at: { name: string; path: readonly string[] }): string | undefined | null {
    const { cases } = this.names;
    if (limit.at !== undefined && !cases.includes(limit.at)) {
      this.complain(
        [...at.path, "at"],
        `Cannot read the requirement "${at.name}": ${unknownWord("an operating case of the section drive", limit.at, cases)}`,
      );
      return null;
    }
    if (metric.stands === "device" || !metric.computed || limit.at !== undefined) return limit.at;
    if (cases.length === 1) return cases[0];
    this.complain(
      at.path,
      `The requirement "${at.name}" lacks "at": ${metric.word} stands at an operating case, one of ${listed(cases)}.`,
    );
    return null;
  }

  private argumentOf(limit: LimitText, metric: Metric, at: { name: string; path: readonly string[] }): Phrase | undefined | null {
    if (limit.for === undefined) {
      if (metric.needs === undefined) return undefined;
      this.complain(
        at.path,
        `The requirement "${at.name}" lacks "for": ${metric.word} needs ${metric.needs.about}, for example for: ${exampleOf[metric.needs.dimension] ?? "1"}.`,
      );
      return null;
    }
    if (metric.needs === undefined) {
      this.complain(
        [...at.path, "for"],
        `Cannot read the requirement "${at.name}": ${metric.word} takes no value under "for". Delete the line.`,
      );
      return null;
    }
    try {
      return parsePhrase(limit.for);
    } catch (error) {
      if (!(error instanceof ExpressionError)) throw error;
      this.complain([...at.path, "for"], `Cannot read the requirement "${at.name}": ${error.message}.`);
      return null;
    }
  }
}

/** Reads the brief against the vocabulary, the cases and the devices. */
export function readBrief(description: Description): { requirements: readonly Requirement[]; problems: readonly TextProblem[] } {
  const reader = new BriefReader(description);
  const requirements = reader.read();
  return { requirements, problems: reader.problems };
}
