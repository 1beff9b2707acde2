/** Half of the hands of size.bench.ts: answers questions about designs of one chip. */
import { parentPort, workerData } from "node:worker_threads";
import { createDesignSolver, type DesignQuestion, openChip, type RegionRequest } from "#chip";

const { text, request } = workerData as { readonly text: string; readonly request: RegionRequest };
const solve = createDesignSolver(openChip(text, { file: "chip.yaml" }), request);
parentPort!.on("message", (question: DesignQuestion) => parentPort!.postMessage(solve(question)));
