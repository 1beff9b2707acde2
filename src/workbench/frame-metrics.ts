/** Metrics that follow the pointer in the same frame: they are read off an operating point at no further cost. */

const words: ReadonlySet<string> = new Set([
  "steady travel",
  "supply current",
  "cold inrush current",
  "pad voltage",
  "pad power",
  "supply power",
  "hottest silicon temperature",
  "mean silicon temperature",
  "mean leg temperature",
  "shuttle temperature",
  "anchor temperature",
  "mean leg strain",
  "hot resistance",
  "share of heat to gas",
  "peak beam stress",
  "peak root stress",
  "axial force per leg",
  "motion along x",
  "motion along y",
  "turn",
  "temperature",
  "mean temperature",
  "highest temperature",
  "current through",
  "axial force",
  "stress",
]);

/** Whether a metric can follow the pointer; times, modes, light and forces that need paths of their own come later. */
export function followsPointer(word: string): boolean {
  return words.has(word);
}
