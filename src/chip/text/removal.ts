/** What of a text goes with an entry: its lines or its part of the brackets, and the comments that are its own. Main test: entries.test.ts. */
import { isMap, type Node } from "yaml";
import { findNode } from "./find-node.ts";
import {
  type Block,
  colonOf,
  endWithComments,
  indexOf,
  lineStart,
  nextLine,
  type Site,
  sitesOf,
  startWithComments,
} from "./sites.ts";
import { lineEndOf, spliced } from "./splice.ts";

type Path = readonly string[];

/** The text without an entry, in the ways that may read, best first. */
export function* removals(
  text: string,
  { root, home, block, index }: { root: Node; home: Path; block: Block; index: number },
): Generator<string> {
  const sites = sitesOf(text, block);
  const site = sites[index]!;
  const isOnly = sites.length === 1;
  if (block.flow === true) {
    const [start, end] = block.range!;
    yield isOnly ? spliced(text, { start: start + 1, end: end - 1 }, "") : spliced(text, betweenBrackets(text, sites, index), "");
    return;
  }
  const end = endWithComments(text, site, index === sites.length - 1);
  const isBehindDash = text.slice(lineStart(text, site.start), site.start).trim() !== "";
  if (isOnly) {
    const empty = isMap(block) ? "{}" : "[]";
    if (isBehindDash) yield spliced(text, { start: site.start, end }, empty);
    const parent = findNode(root, home.slice(0, -1)) as Block;
    if (!isMap(parent)) {
      const dash = sitesOf(text, parent)[indexOf(parent, home.at(-1)!)]!.start + 1;
      yield spliced(text, { start: dash, end }, ` ${empty}`);
      return;
    }
    const colon = colonOf(text, parent.items[indexOf(parent, home.at(-1)!)]!.key as Node);
    const start = startWithComments(text, site);
    yield spliced(
      spliced(text, { start: start - lineEndOf(text, start).length, end }, ""),
      { start: colon, end: colon },
      ` ${empty}`,
    );
    return;
  }
  if (isBehindDash) {
    // the next entry moves up behind the dash, unless comments of its own stand between
    const next = sites[index + 1]!;
    if (!text.slice(end, next.start).includes("#")) yield spliced(text, { start: site.start, end: next.start }, "");
    yield spliced(text, { start: site.start - / *$/.exec(text.slice(0, site.start))![0].length, end }, "");
    return;
  }
  const start = startWithComments(text, site);
  const after = nextLine(text, end);
  const blanks = /(?:^|\n)((?:[ \t]*\r?\n)+)$/.exec(text.slice(0, start))?.[1]?.length ?? 0;
  const isBlankAfter = /^[ \t]*(?:\r?\n|$)/.test(text.slice(after));
  // one empty line of the two round it is enough
  if (blanks > 0 && isBlankAfter) yield* cut(text, start - blanks, end);
  yield* cut(text, start, end);
}

/** Whole lines cut out; at the end of a text that has no last line end, the line end in front goes. */
function* cut(text: string, start: number, end: number): Generator<string> {
  const after = nextLine(text, end);
  yield end === text.length
    ? spliced(text, { start: start - lineEndOf(text, start).length, end }, "")
    : spliced(text, { start, end: after }, "");
}

/** What goes with an entry between brackets: its comma, and the comment on its line. */
function betweenBrackets(text: string, sites: readonly Site[], index: number): Site {
  const site = sites[index]!;
  const next = sites[index + 1];
  if (next !== undefined) {
    const rest = /^\s*,[ \t]*(?:(?:#[^\n]*)?\n)?\s*?(?=\S)/.exec(text.slice(site.end, next.start + 1));
    return { start: site.start, end: rest === null ? next.start : site.end + rest[0].length };
  }
  const before = sites[index - 1]!;
  if (!text.slice(before.end, site.start).includes("#")) return { start: before.end, end: site.end };
  const indent = /(?:\r?\n)?[ \t]*$/.exec(text.slice(0, site.start))![0].length;
  const comment = /^[ \t]+#[^\n\r]*/.exec(text.slice(site.end))?.[0].length ?? 0;
  return { start: site.start - indent, end: site.end + comment };
}
