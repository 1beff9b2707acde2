/**
 * The version at the top of a chip text, and the steps that bring older texts up to date. Steps are kept for ever; each one edits the
 * text itself, so that comments and spacing stay.
 */
import { InputError } from "#base";

export interface Migration {
  /** The version that the step reads. It gives the next one. */
  readonly from: number;
  /** What changes, in one sentence for the user. */
  readonly about: string;
  apply(text: string): string;
}

/** Version that this program writes. */
export const currentVersion = 1;

/** Every step from version 1 on, in order. */
export const migrations: readonly Migration[] = [];

const versionLine = /^version:[ \t]*(\S+)[ \t]*(?:#.*)?$/m;

/** The version a text states, or undefined where it states none that is a whole number. */
export function statedVersion(text: string): number | undefined {
  const stated = versionLine.exec(text)?.[1];
  return stated !== undefined && /^\d{1,6}$/.test(stated) ? Number(stated) : undefined;
}

function lineOf(text: string, offset: number): number {
  return text.slice(0, offset).split("\n").length;
}

/** Runs the steps that lead from the text's version to `to`. Each step leaves the version line right. */
export function migrateText(text: string, steps: { readonly migrations: readonly Migration[]; readonly to: number }): string {
  let result = text;
  for (let version = statedVersion(text) ?? steps.to; version < steps.to; version++) {
    const step = steps.migrations.find((migration) => migration.from === version);
    if (step === undefined)
      throw new RangeError(
        `Cannot bring a text of version ${version} up to date: the step from ${version} to ${version + 1} is missing`,
      );
    result = step.apply(result).replace(versionLine, (line) => line.replace(/\d+/, String(version + 1)));
  }
  return result;
}

/** Brings a text up to the current version. Throws InputError for a version that this program does not know. */
export function checkVersion(text: string, file: string): string {
  const match = versionLine.exec(text);
  const version = statedVersion(text);
  // a missing or odd version is told by the shape of the text, together with everything else
  if (match === null || version === undefined || version === currentVersion) return text;
  if (version > currentVersion || version < 1) {
    const message =
      version > currentVersion
        ? `This text is of version ${version}; this program knows versions up to ${currentVersion}. Use a newer program, or write version: ${currentVersion} if the text was made for it.`
        : `Version ${version} never existed; the first is 1. Write version: ${currentVersion}.`;
    throw new InputError([
      { place: { file, line: lineOf(text, match.index), column: match[0].indexOf(match[1]!) + 1 }, message },
    ]);
  }
  return migrateText(text, { migrations, to: currentVersion });
}
