/** Every example reads, predicts on both sides and, where it has a die, draws plates that read back. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { buildLedger, buildPlates, openChip } from "#chip";
import { compareLibraries, formatGdsii, parseGdsii } from "#mask";

const examples = join(import.meta.dirname ?? "", "../../examples");

describe.each(readdirSync(examples).filter((name) => /^\d\d-/.test(name)))("example %s", (name) => {
  const chip = openChip(readFileSync(join(examples, name, "chip.yaml"), "utf8"), { file: `examples/${name}/chip.yaml` });
  it("comes to a steady state in every case", () => {
    for (const caseName of chip.names.steadyCases) {
      for (const side of ["drawn", "built"] as const)
        expect(chip.side(side).pointAt(chip.names.devices[0]!, caseName).current).toBeGreaterThanOrEqual(0);
    }
  });
  it("gives a ledger whose computed rows have a chance", () => {
    const ledger = buildLedger(chip, { samples: 0, seed: 1, doubtAsDrawn: false });
    for (const row of ledger.rows) if (row.status === "computed") expect(row.built!.shown).toBeGreaterThanOrEqual(0);
  });
  if (chip.description.sections.die === undefined) return;
  it("draws plates without findings, biased once, that read back the same", () => {
    const plates = buildPlates(chip);
    expect(plates.findings).toEqual([]);
    const date = { year: 2026, month: 1, day: 2, hour: 3, minute: 4, second: 5 };
    expect(compareLibraries(plates.library, parseGdsii(formatGdsii(plates.library, { date })).library)).toEqual([]);
  });
});
