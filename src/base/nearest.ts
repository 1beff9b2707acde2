/**
 * The nearest known word to a mistyped one, for error sentences.
 * Distance: optimal string alignment (insert, delete, replace, swap of neighbours).
 */

function editDistance(a: string, b: string): number {
  const rows = a.length + 1;
  const columns = b.length + 1;
  const cost = new Int32Array(rows * columns);
  for (let i = 0; i < rows; i++) cost[i * columns] = i;
  for (let j = 0; j < columns; j++) cost[j] = j;
  for (let i = 1; i < rows; i++) {
    for (let j = 1; j < columns; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(
        cost[(i - 1) * columns + j]! + 1,
        cost[i * columns + j - 1]! + 1,
        cost[(i - 1) * columns + j - 1]! + same,
      );
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, cost[(i - 2) * columns + j - 2]! + 1);
      }
      cost[i * columns + j] = best;
    }
  }
  return cost[rows * columns - 1]!;
}

const longestCompared = 60;

/** Words of two names in common, so that "travel" still finds "steady travel". */
function sharesWord(a: string, b: string): boolean {
  const words = new Set(a.toLowerCase().split(" "));
  return b
    .toLowerCase()
    .split(" ")
    .some((word) => word.length > 3 && words.has(word));
}

/** The nearest of `candidates` to `word`, or undefined when none is near enough to be meant. */
export function nearestName(word: string, candidates: Iterable<string>): string | undefined {
  if (word.length > longestCompared) return undefined;
  const allowed = Math.max(1, Math.floor(word.length / 3));
  let best: string | undefined;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const candidate of candidates) {
    if (candidate.length > longestCompared) continue;
    const distance = editDistance(word.toLowerCase(), candidate.toLowerCase());
    const reach = sharesWord(word, candidate) ? Math.max(allowed, Math.abs(word.length - candidate.length) + 2) : allowed;
    if (distance <= reach && distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}
