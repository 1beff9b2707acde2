/** What the page will do many times a second: read a text, and solve a device. */
import { readFileSync } from "node:fs";
import { buildLedger, openChip } from "#chip";
import type { Bench } from "./bench.ts";

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

export const benches: readonly Bench[] = [
  { name: "one pair of legs, full operating point", run: operate(pair, "pusher", 5) },
  { name: "six pairs of legs, full operating point", run: operate(bank, "drive", 10) },
  { name: "read and check the 190 lines of Leafgate", run: () => void openChip(bankText, { file: "chip.yaml" }) },
  { name: "ledger of one pair, first order", run: () => void buildLedger(pair, { samples: 0, seed: 1, doubtAsDrawn: false }) },
];
