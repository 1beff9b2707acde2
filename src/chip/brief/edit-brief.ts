/** Changing the brief of a text: a requirement or limit more, another, or one less; everything else stays. Main test: edit-brief.test.ts. */
import { isSeq, type Node } from "yaml";
import { describeDifference } from "../text/difference.ts";
import { replaceValue } from "../text/edit.ts";
import { addEntry, removeEntry } from "../text/entries.ts";
import { findNode } from "../text/find-node.ts";
import { parseText } from "../text/parse.ts";
import { type Tree, treeOf } from "../text/tree.ts";
import { unknownWord } from "./requirements.ts";

/** What a limit says, in the order in which it is written. */
const limitFields = ["need", "of", "where", "for", "at", "device"] as const;
const ownFields = ["why", "proof"] as const;

/** Words of a requirement by their names in the text. */
export type RequirementWords = { readonly [field in (typeof limitFields)[number] | (typeof ownFields)[number]]?: string };

/** A change of the brief. `limit` is the number, from 1, of one of several limits. An empty word takes its line away. */
export type BriefEdit =
  | { readonly make: "add"; readonly name: string; readonly words: RequirementWords }
  | { readonly make: "add limit"; readonly name: string; readonly words: RequirementWords }
  | { readonly make: "rewrite"; readonly name: string; readonly limit?: number; readonly words: RequirementWords }
  | { readonly make: "rename"; readonly name: string; readonly to: string }
  | { readonly make: "remove"; readonly name: string; readonly limit?: number };

type Path = readonly string[];

const given = (words: RequirementWords, fields: readonly (keyof RequirementWords)[]): Record<string, string> =>
  Object.fromEntries(
    fields.flatMap((field) => (words[field] === undefined || words[field] === "" ? [] : [[field, words[field]]])),
  );

const fieldOf = (tree: Tree, name: string): Tree | undefined =>
  tree.kind === "named" ? tree.items.find((item) => item.name === name)?.tree : undefined;

/** The brief as it stands in a text. */
class Brief {
  private readonly root: Node;
  readonly names: readonly string[];

  constructor(
    readonly text: string,
    readonly file: string,
  ) {
    this.root = parseText(text, file).root;
    const brief = treeOf(findNode(this.root, ["brief"]));
    this.names = (brief.kind === "list" ? brief.items : []).map((item) => {
      const name = fieldOf(item, "name");
      return name?.kind === "value" ? name.text : "";
    });
  }

  pathOf(name: string): Path {
    const index = this.names.indexOf(name);
    if (index < 0)
      throw new RangeError(`Cannot change the brief: ${unknownWord("a requirement", name, this.names).slice(0, -1)}`);
    return ["brief", String(index + 1)];
  }

  has(path: Path): boolean {
    return findNode(this.root, path) !== undefined;
  }

  nLimits(path: Path): number | undefined {
    const limits = findNode(this.root, [...path, "limits"]);
    return isSeq(limits) ? limits.items.length : undefined;
  }

  /** Where the words of a limit stand. */
  limitPath(name: string, limit: number | undefined): Path {
    const path = this.pathOf(name);
    const n = this.nLimits(path);
    if (n === undefined) {
      if (limit === undefined || limit === 1) return path;
      throw new RangeError(`Cannot change limit ${limit} of "${name}": it has one limit`);
    }
    if (limit === undefined) throw new RangeError(`Cannot change "${name}": it has ${n} limits; say which, from 1 to ${n}`);
    if (!Number.isInteger(limit) || limit < 1 || limit > n)
      throw new RangeError(`Cannot change limit ${limit} of "${name}": its limits go from 1 to ${n}`);
    return [...path, "limits", String(limit)];
  }
}

function withWord(
  text: string,
  at: { readonly file: string; readonly path: Path; readonly field: string; readonly word: string },
): string {
  const { file, path, field, word } = at;
  const whole = [...path, field];
  const stands = new Brief(text, file).has(whole);
  if (word === "") return stands ? removeEntry(text, { file, path: whole }) : text;
  return stands
    ? replaceValue(text, { file, path: whole, value: word })
    : addEntry(text, { file, path, key: field, value: word });
}

function rewritten(brief: Brief, { name, limit, words }: Extract<BriefEdit, { make: "rewrite" }>): string {
  const { file } = brief;
  const own = brief.pathOf(name);
  const ofLimit = limitFields.some((field) => words[field] !== undefined);
  const path = ofLimit ? brief.limitPath(name, limit) : own;
  const fields = [...limitFields.map((field) => ({ field, path })), ...ownFields.map((field) => ({ field, path: own }))];
  return fields.reduce((text, { field, path: at }) => {
    const word = words[field];
    return word === undefined ? text : withWord(text, { file, path: at, field, word });
  }, brief.text);
}

/** A single limit makes room for a second: both go under "limits". */
function withLimit(brief: Brief, { name, words }: Extract<BriefEdit, { make: "add limit" }>): string {
  const { file } = brief;
  const path = brief.pathOf(name);
  const limit = given(words, limitFields);
  if (brief.nLimits(path) !== undefined) return addEntry(brief.text, { file, path: [...path, "limits"], value: limit });
  const tree = treeOf(findNode(parseText(brief.text, file).root, path));
  const first = limitFields.flatMap((field) => {
    const word = fieldOf(tree, field);
    return word?.kind === "value" ? [[field, word.text] as const] : [];
  });
  const bare = first.reduce((text, [field]) => removeEntry(text, { file, path: [...path, field] }), brief.text);
  return addEntry(bare, { file, path, key: "limits", value: [Object.fromEntries(first), limit] });
}

function without(brief: Brief, { name, limit }: Extract<BriefEdit, { make: "remove" }>): string {
  const path = brief.pathOf(name);
  if (limit === undefined || brief.nLimits(path) === undefined) return removeEntry(brief.text, { file: brief.file, path });
  const at = brief.limitPath(name, limit);
  if (brief.nLimits(path) === 1) throw new RangeError(`Cannot remove the last limit of "${name}": remove the requirement`);
  return removeEntry(brief.text, { file: brief.file, path: at });
}

/**
 * The text with its brief changed, and the change in words. Comments, order and spacing of the rest stay. Throws InputError when the
 * text does not read, RangeError with a sentence when there is no such requirement or limit, or its name is taken.
 */
export function editBrief(
  text: string,
  { file, edit }: { readonly file: string; readonly edit: BriefEdit },
): { readonly text: string; readonly sentence: string } {
  const brief = new Brief(text, file);
  const refuseTaken = (name: string): void => {
    if (name === "") throw new RangeError("Cannot change the brief: a requirement needs a name");
    if (brief.names.includes(name)) throw new RangeError(`Cannot change the brief: "${name}" is a requirement already`);
  };
  switch (edit.make) {
    case "add": {
      refuseTaken(edit.name);
      const value = { name: edit.name, ...given(edit.words, [...limitFields, ...ownFields]) };
      return { text: addEntry(text, { file, path: ["brief"], value }), sentence: `requirement "${edit.name}" added` };
    }
    case "add limit":
      return { text: withLimit(brief, edit), sentence: `limit added to "${edit.name}"` };
    case "rename": {
      const path = [...brief.pathOf(edit.name), "name"];
      refuseTaken(edit.to);
      return {
        text: replaceValue(text, { file, path, value: edit.to }),
        sentence: `requirement "${edit.name}" now called "${edit.to}"`,
      };
    }
    case "remove":
      return {
        text: without(brief, edit),
        sentence:
          edit.limit === undefined ? `requirement "${edit.name}" removed` : `limit ${edit.limit} of "${edit.name}" removed`,
      };
    case "rewrite": {
      const next = rewritten(brief, edit);
      return { text: next, sentence: describeDifference(text, next) };
    }
  }
}
