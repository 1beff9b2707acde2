/** Import cycles between files: strongly connected parts of the import graph (Tarjan's algorithm, from memory). */

export type ImportGraph = ReadonlyMap<string, readonly { readonly target: string; readonly line: number }[]>;

export interface Cycle {
  /** Files in the order in which they import each other; the last imports the first. */
  readonly files: readonly string[];
  /** Line of the import in the first file that leads into the circle. */
  readonly line: number;
}

/** Sets of files that all reach each other, each of two or more files or of one that imports itself. */
function findKnots(graph: ImportGraph): string[][] {
  const order = new Map<string, number>();
  const lowest = new Map<string, number>();
  const stack: string[] = [];
  const onStack = new Set<string>();
  const knots: string[][] = [];
  const visit = (file: string): void => {
    order.set(file, order.size);
    lowest.set(file, order.get(file)!);
    stack.push(file);
    onStack.add(file);
    for (const { target } of graph.get(file)!) {
      if (!graph.has(target)) continue;
      if (!order.has(target)) {
        visit(target);
        lowest.set(file, Math.min(lowest.get(file)!, lowest.get(target)!));
      } else if (onStack.has(target)) lowest.set(file, Math.min(lowest.get(file)!, order.get(target)!));
    }
    if (lowest.get(file) !== order.get(file)) return;
    const knot = stack.splice(stack.indexOf(file));
    for (const member of knot) onStack.delete(member);
    if (knot.length > 1 || graph.get(file)!.some(({ target }) => target === file)) knots.push(knot);
  };
  for (const file of graph.keys()) if (!order.has(file)) visit(file);
  return knots;
}

/** Shortest way from the first file of a knot back to itself, by breadth-first search. */
function shortestCycle(graph: ImportGraph, knot: readonly string[]): Cycle {
  const start = [...knot].sort()[0]!;
  const cameFrom = new Map<string, string>();
  const queue = [start];
  for (let file = queue.shift(); file !== undefined; file = queue.shift()) {
    for (const { target } of graph.get(file)!) {
      if (target === start) {
        const files = [file];
        for (let at = file; at !== start; ) {
          at = cameFrom.get(at)!;
          files.unshift(at);
        }
        const line = graph.get(start)!.find((edge) => edge.target === (files[1] ?? start))!.line;
        return { files, line };
      }
      if (knot.includes(target) && !cameFrom.has(target)) {
        cameFrom.set(target, file);
        queue.push(target);
      }
    }
  }
  return { files: knot, line: 1 };
}

/** One shortest cycle of each knot of files that import each other. */
export function findCycles(graph: ImportGraph): Cycle[] {
  return findKnots(graph).map((knot) => shortestCycle(graph, knot));
}
