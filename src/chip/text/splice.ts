/** Putting characters into a text in the line ends that it has. */

/** The text with [start, end) replaced; line ends of what is put in become those of the text. */
export function spliced(text: string, { start, end }: { readonly start: number; readonly end: number }, by: string): string {
  const lineEnd = /\r?\n/.exec(text)?.[0] ?? "\n";
  return text.slice(0, start) + by.replaceAll(/\r?\n/g, lineEnd) + text.slice(end);
}

/** The line end right before an offset; empty where there is none. */
export const lineEndOf = (text: string, offset: number): string =>
  /\r?\n$/.exec(text.slice(Math.max(0, offset - 2), offset))?.[0] ?? "";

/** Lines whose first gets its indent; those below carry theirs already. */
export function indented([first, ...rest]: readonly string[], column: number): readonly string[] {
  return [" ".repeat(column) + first!, ...rest];
}
