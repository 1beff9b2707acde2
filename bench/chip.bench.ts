/** What the page will do many times a second: read a text, and solve a device. */
import { readFileSync } from "node:fs";
import { buildLedger, estimateSide, type MetricRequest, metricRequest, openChip, runSweep } from "#chip";
import type { Bench, Study } from "./bench.ts";

const read = (example: string) => readFileSync(new URL(`../examples/${example}/chip.yaml`, import.meta.url), "utf8");
const [pairText, bankText] = [read("01-one-bent-beam"), read("02-leafgate")];
const [pair, bank] = [openChip(pairText, { file: "chip.yaml" }), openChip(bankText, { file: "chip.yaml" })];

/** A full operating point at a voltage that changes a little each time, as under a pointer. */
function operate(chip: typeof pair, device: string, start: number): () => void {
  const side = chip.side("drawn");
  const model = side.deviceModel(device);
  const loads = { againstTravel: 0, forces: [], held: [], acceleration: [0, 0] } as const;
  const potentials = new Map<string, number>();
  let voltage = start;
  let last = model.operate({ kind: "pads", voltage, potentials }, { loads });
  return () => {
    voltage = voltage > 1.02 * start ? start : voltage * 1.0005;
    last = model.operate({ kind: "pads", voltage, potentials }, { loads, start: last });
  };
}

/** Forty milliseconds after switching on, from cold, with the travel at every moment. */
function stepResponse(): () => void {
  const model = bank.side("drawn").deviceModel("shutter");
  const drive = { kind: "pads", voltage: 10.2, potentials: new Map<string, number>() } as const;
  return () => void model.run([{ duration: 0.04, drive }], { againstTravel: 0, forces: [], held: [], acceleration: [0, 0] });
}

function sweep(name: string, from: string, to: string): () => void {
  const metrics = [metricRequest(bank, "steady travel", { device: "shutter", caseName: "hold" })];
  return () => void runSweep(bank, { name, from, to, steps: 100, metrics, side: "drawn" });
}

/** All metrics of Leafgate's brief that a model computes. */
function briefOfBank(): MetricRequest[] {
  const { scope } = bank.side("drawn");
  return bank.requirements.flatMap((requirement) =>
    requirement.limits.flatMap(({ metric, device, caseName, where, argument, place }) =>
      metric === undefined
        ? []
        : [
            {
              metric,
              device,
              caseName,
              where,
              argument: argument === undefined ? undefined : scope.evaluatePhrase(argument, { place, name: metric.word }).value,
            },
          ],
    ),
  );
}

const pairCounts = [1, 2, 5, 10, 20, 50, 100, 200];

/** The first example with a bank of so many pairs. */
function bankOfPairs(count: number): typeof pair {
  const height = 16 * (count + 1);
  const text = pairText
    .replace("is: bent-beam pair", "is: bent-beam bank")
    .replace("legs: { ", `legs: { pairs: ${count}, pitch: 16 um, `)
    .replace("height: 40 um }", `height: ${height} um }`)
    .replace("height: 400 um", `height: ${height + 400} um`)
    .replace("height: 2 mm }", `height: ${height + 2000} um }`);
  return openChip(text, { file: "chip.yaml" });
}

export const studies: readonly Study[] = [
  {
    name: "derivatives of Leafgate's brief by all causes of doubt, over the cost of its metrics",
    find: async (median) => {
      const requests = briefOfBank();
      const run = (doubt: boolean) => median({ name: "brief", run: () => estimateSide(bank, "drawn", { requests, doubt }) });
      const [metrics, both] = [await run(false), await run(true)];
      return `${((both - metrics) / metrics).toFixed(2)} (${metrics.toFixed(0)} ms and ${(both - metrics).toFixed(0)} ms)`;
    },
  },
  {
    name: `operating point for ${pairCounts.join(", ")} pairs of legs`,
    find: async (median) => {
      const times: number[] = [];
      for (const count of pairCounts) times.push(await median({ name: "pairs", run: operate(bankOfPairs(count), "pusher", 5) }));
      // slope between 10 pairs and the most, where what every point costs no longer shows
      const [first, last] = [pairCounts.indexOf(10), pairCounts.length - 1];
      const exponent = Math.log(times[last]! / times[first]!) / Math.log(pairCounts[last]! / pairCounts[first]!);
      return `${times.map((time) => time.toFixed(2)).join(", ")} ms: exponent ${exponent.toFixed(2)}`;
    },
  },
];

export const benches: readonly Bench[] = [
  { name: "one pair of legs, full operating point", run: operate(pair, "pusher", 5) },
  { name: "Leafgate's shutter, full operating point", run: operate(bank, "shutter", 10) },
  { name: "Leafgate's shutter, step response of 40 ms", run: stepResponse() },
  { name: "Leafgate's shutter, travel over 100 voltages", run: sweep("hold pads", "6 V", "11 V") },
  { name: "Leafgate's shutter, travel over 100 leg widths", run: sweep("leg width", "5.5 um", "7 um") },
  { name: "read and check the 190 lines of Leafgate", run: () => void openChip(bankText, { file: "chip.yaml" }) },
  { name: "ledger of one pair, first order", run: () => void buildLedger(pair, { samples: 0, seed: 1, doubtAsDrawn: false }) },
];
