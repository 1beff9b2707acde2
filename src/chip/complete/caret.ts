/**
 * Where a caret stands in a text that is being written: at a name, at a value, or where nothing can be offered. Read from the signs of
 * the text alone, as the text seldom parses at the caret. Starts anew at each section, so that an open bracket above harms one section.
 */

export interface Caret {
  readonly stands: "name" | "value";
  /** Whether it stands inside { } or [ ], where a comma ends an entry. */
  readonly inBrackets: boolean;
  /** Ends of what is being written there, as offsets in the text. */
  readonly from: number;
  readonly to: number;
  /** A colon follows the name already. */
  readonly hasColon: boolean;
}

/** Offset at which the section around `offset` begins. */
function sectionStart(text: string, offset: number): number {
  let start = text.slice(0, offset).lastIndexOf("\n") + 1;
  while (start > 0 && !/^\p{L}/u.test(text.slice(start, start + 2))) start = text.slice(0, start - 1).lastIndexOf("\n") + 1;
  return start;
}

const isBlank = (sign: string | undefined): boolean => sign === undefined || sign === " " || sign === "\n" || sign === "\r";

/** The lexer of a section up to the caret. */
class Walk {
  private at: number;
  /** Start of the word being read. */
  private start: number;
  private stands: Caret["stands"] = "name";
  private readonly brackets: ("{" | "[")[] = [];
  /** Column of the name whose value is being read. */
  private indent = 0;

  constructor(
    private readonly text: string,
    private readonly offset: number,
  ) {
    this.at = sectionStart(text, offset);
    this.start = this.at;
    this.beginLine();
  }

  /** What stands at the caret; undefined within a remark, a quote or a text over several lines. */
  run(): Caret | undefined {
    while (this.at < this.offset) if (!this.step()) return undefined;
    return this.caret();
  }

  private beginLine(): void {
    const { text, offset } = this;
    const line = this.at;
    while (this.at < offset && text[this.at] === " ") this.at++;
    while (this.at + 1 < offset && text[this.at] === "-" && text[this.at + 1] === " ") {
      this.at += 2;
      while (this.at < offset && text[this.at] === " ") this.at++;
    }
    this.indent = this.at - line;
    this.start = this.at;
    this.stands = "name";
  }

  /** Whether the sign at an offset begins the word being read. */
  private begins(at: number): boolean {
    return this.text.slice(this.start, at).trim() === "";
  }

  /** Goes on by one sign, a remark or a quote; false where the caret stands inside of it. */
  private step(): boolean {
    const { text, at } = this;
    const sign = text[at]!;
    if (sign === "#" && isBlank(text[at - 1])) return this.skipTo(text.indexOf("\n", at));
    if ((sign === '"' || sign === "'") && this.begins(at)) return this.skipTo(text.indexOf(sign, at + 1) + 1 || -1);
    if (sign === "\n") return this.endLine();
    this.at++;
    if ((sign === "{" || sign === "[") && this.begins(at)) {
      this.brackets.push(sign);
      this.startWord();
    } else if (this.brackets.length > 0 && (sign === "}" || sign === "]")) {
      this.brackets.pop();
      this.stands = "value";
    } else if (this.brackets.length > 0 && sign === ",") this.startWord();
    else if (sign === ":" && isBlank(text[this.at]) && this.stands === "name") {
      this.stands = "value";
      this.start = this.at;
    }
    return true;
  }

  private startWord(): void {
    this.start = this.at;
    this.stands = this.brackets.at(-1) === "{" ? "name" : "value";
  }

  private skipTo(end: number): boolean {
    // the very end of a remark belongs to it, the end of a quote does not
    if (end < 0 || end > this.offset || (end === this.offset && this.text[end - 1] !== '"' && this.text[end - 1] !== "'"))
      return false;
    this.at = end;
    return true;
  }

  private endLine(): boolean {
    const isLong = this.stands === "value" && /^\s*[|>][-+\d]*\s*$/.test(this.text.slice(this.start, this.at));
    this.at++;
    if (this.brackets.length > 0) return true;
    return isLong ? this.skipLong() : this.goToLine();
  }

  private goToLine(): true {
    this.beginLine();
    return true;
  }

  /** Lines of a text over several lines are indented deeper than its name. */
  private skipLong(): boolean {
    const { text, offset, indent } = this;
    while (this.at < offset) {
      const end = text.indexOf("\n", this.at);
      const line = text.slice(this.at, end < 0 ? undefined : end);
      if (line.trim() !== "" && line.search(/\S/) <= indent) return this.goToLine();
      if (end < 0 || end >= offset) return false;
      this.at = end + 1;
    }
    return this.goToLine();
  }

  private caret(): Caret {
    const { text, offset } = this;
    let from = this.start;
    while (from < offset && isBlank(text[from])) from++;
    const inBrackets = this.brackets.length > 0;
    const rest = text.slice(offset, text.indexOf("\n", offset) < 0 ? undefined : text.indexOf("\n", offset));
    const ends = this.stands === "name" ? /:(?=\s|$)|\s#| {2}|[,{}[\]]/ : inBrackets ? /\s#|[,}\]]/ : /\s#/;
    const found = rest.search(ends);
    const word = (found < 0 ? rest : rest.slice(0, found)).trimEnd();
    const behind = text.slice(offset + word.length).trimStart();
    return {
      stands: this.stands,
      inBrackets,
      from,
      to: offset + word.length,
      hasColon: this.stands === "name" && /^:(\s|$)/.test(behind),
    };
  }
}

export function findCaret(text: string, offset: number): Caret | undefined {
  return new Walk(text, offset).run();
}
