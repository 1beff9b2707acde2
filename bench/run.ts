/**
 * Runs all benches, or those whose file name contains one of the given words, and prints each as a ratio to the reference.
 * `npm run bench -- sparse`. Writes nothing.
 */

import { readdirSync } from "node:fs";
import { Bench as Clock } from "tinybench";
import type { Bench, Study } from "./bench.ts";
import { runReference } from "./reference.ts";

/** Median time of one run [ms]. */
async function measureMedian({ name, run }: Bench): Promise<number> {
  const clock = new Clock({ time: 500, warmupTime: 100, iterations: 5, warmupIterations: 2, throws: true });
  clock.add(name, run);
  const [task] = await clock.run();
  if (task?.result.state !== "completed") throw new Error(`Cannot measure "${name}": wanted a completed run, found none`);
  return task.result.latency.p50;
}

const words = process.argv.slice(2);
const files = readdirSync(new URL(".", import.meta.url))
  .filter((file) => file.endsWith(".bench.ts") && (words.length === 0 || words.some((word) => file.includes(word))))
  .sort();
const reference = await measureMedian({ name: "reference", run: runReference });
console.log(`reference: dense LU 200 x 200 in plain loops, ${reference.toFixed(2)} ms`);
console.log("  ratio          ms  what");
for (const file of files) {
  const { benches, studies } = (await import(new URL(file, import.meta.url).href)) as {
    benches: readonly Bench[];
    studies?: readonly Study[];
  };
  for (const bench of benches) {
    const median = await measureMedian(bench);
    console.log(`${(median / reference).toFixed(3).padStart(7)}  ${median.toFixed(3).padStart(10)}  ${bench.name}`);
  }
  for (const study of studies ?? []) console.log(`${" ".repeat(21)}${study.name}: ${await study.find(measureMedian)}`);
}
