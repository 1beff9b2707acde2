/** Where Leafgate may live, over the length and width of its legs: ten limits on two workers, as the page has them, and the whole brief. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { build } from "esbuild";
import { parseDocument, YAMLMap, YAMLSeq } from "yaml";
import {
  type AskDesign,
  type DesignAnswer,
  type DesignQuestion,
  findMetric,
  openChip,
  type RegionRequest,
  regionInSteps,
} from "#chip";
import type { Bench, Study } from "./bench.ts";
import { runReference } from "./reference.ts";

const leafgate = readFileSync(new URL("../examples/02-leafgate/chip.yaml", import.meta.url), "utf8");
const request: RegionRequest = {
  x: { name: "drive legs length", from: "600 um", to: "1000 um" },
  y: { name: "leg width", from: "5 um", to: "8 um" },
  side: "built",
};

/** Leafgate with the first limits of its brief that stand at rest, and no others. */
function withLimitsAtRest(count: number): string {
  const document = parseDocument(leafgate);
  let kept = 0;
  const keeps = (limit: unknown): boolean => {
    const metric = limit instanceof YAMLMap ? findMetric(String(limit.get("of"))) : undefined;
    return metric !== undefined && metric.timed !== true && kept++ < count;
  };
  const brief = document.get("brief") as YAMLSeq<YAMLMap>;
  brief.items = brief.items.filter((requirement) => {
    const limits = requirement.get("limits");
    if (!(limits instanceof YAMLSeq)) return keeps(requirement);
    limits.items = limits.items.filter(keeps);
    return limits.items.length > 0;
  });
  return document.toString({ lineWidth: 0 });
}

/** A worker as a lane: one question under way at a time. */
function laneOf(worker: Worker): AskDesign {
  return (question: DesignQuestion) =>
    new Promise<DesignAnswer>((resolve, reject) => {
      worker.once("error", reject);
      worker.once("message", (answer: DesignAnswer) => {
        worker.off("error", reject);
        resolve(answer);
      });
      worker.postMessage(question);
    });
}

/** Packages written for `require` ask for it at run time. */
const banner = { js: 'import { createRequire as make } from "node:module"; const require = make(import.meta.url);' };

interface Times {
  /** Until the first picture, until the edges of the limits at rest are exact, and in all [ms]. */
  readonly coarse: number;
  readonly edges: number;
  readonly whole: number;
  readonly nLimits: number;
  readonly nDesigns: number;
  /** Largest stated error near an edge, as a part of its limit. */
  readonly error: number;
}

/** One study on two workers, which have worked before: the first goes by as the opening of the page does. */
async function timeStudy(text: string): Promise<Times> {
  const chip = openChip(text, { file: "chip.yaml" });
  const folder = mkdtempSync(join(tmpdir(), "waferwright-bench-"));
  const outfile = join(folder, "worker.mjs");
  const entry = fileURLToPath(new URL("./size-worker.ts", import.meta.url));
  await build({ entryPoints: [entry], outfile, bundle: true, platform: "node", format: "esm", target: "node20", banner });
  const workers = [0, 1].map(() => new Worker(outfile, { workerData: { text, request } }));
  const lanes = workers.map(laneOf);
  let times: Times | undefined;
  for (let round = 0; round < 2; round++) {
    const start = performance.now();
    let [coarse, edges] = [Number.NaN, Number.NaN];
    const steps = regionInSteps(chip, request, { lanes });
    for (;;) {
      const step = await steps.next();
      const now = performance.now() - start;
      if (step.done === true) {
        const { limits, nDesigns } = step.value;
        const errors = limits.map(({ error, need: { low, high } }) => error / Math.abs(high ?? low ?? 1)).filter(Number.isFinite);
        times = { coarse, edges, whole: now, nLimits: limits.length, nDesigns, error: Math.max(...errors) };
        break;
      }
      if (step.value.region === undefined) continue;
      if (Number.isNaN(coarse)) coarse = now;
      if (step.value.stage === "edges" && Number.isNaN(edges)) edges = now;
    }
  }
  await Promise.all(workers.map((worker) => worker.terminate()));
  rmSync(folder, { recursive: true, force: true });
  return times!;
}

async function tell(text: string, median: (bench: Bench) => Promise<number>): Promise<string> {
  const reference = await median({ name: "reference", run: runReference });
  const { coarse, edges, whole, nLimits, nDesigns, error } = await timeStudy(text);
  const told = (time: number): string => `${time.toFixed(0)} ms (${(time / reference).toFixed(0)})`;
  return `${nLimits} limits, ${nDesigns} designs: first picture ${told(coarse)}, exact edges ${told(edges)}, all with chances ${told(whole)}; values near the edges off by ${error.toExponential(1)} of their limits`;
}

export const benches: readonly Bench[] = [];

export const studies: readonly Study[] = [
  {
    name: "where Leafgate may live, 101 x 101 places on two workers, ten limits at rest (times, and in units of the reference)",
    find: (median) => tell(withLimitsAtRest(10), median),
  },
  {
    name: "the same for its whole brief, runs in time among them",
    find: (median) => tell(leafgate, median),
  },
];
