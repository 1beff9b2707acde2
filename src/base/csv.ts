/** Tables as CSV. */

/** Text as it stands in a cell: in quotes where it must. */
export function csvCell(text: string): string {
  return /[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** A heading, then one line for each row; numbers in full, an empty cell where there is none. `columns` are as long as each other. */
export function csvOf(heads: readonly string[], columns: readonly ArrayLike<number>[]): string {
  const nRows = columns[0]?.length ?? 0;
  const rows = Array.from({ length: nRows }, (_, i) =>
    columns.map((column) => (Number.isFinite(column[i]) ? String(column[i]) : "")).join(","),
  );
  return `${[heads.map(csvCell).join(","), ...rows].join("\n")}\n`;
}
