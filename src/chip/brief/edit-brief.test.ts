import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { openChip } from "../predict/chip.ts";
import { type BriefEdit, editBrief } from "./edit-brief.ts";

const file = "chip.yaml";
const beam = readFileSync("examples/01-one-bent-beam/chip.yaml", "utf8");
const leafgate = readFileSync("examples/02-leafgate/chip.yaml", "utf8");
const edited = (text: string, edit: BriefEdit): { text: string; sentence: string } => {
  const found = editBrief(text, { file, edit });
  openChip(found.text, { file });
  return found;
};

describe("changing the brief", () => {
  test("a requirement is added behind the others and removed without a trace", () => {
    const words = { need: "at most 400 K", of: "anchor temperature", at: "hold", why: "adhesive" };
    const added = edited(beam, { make: "add", name: "glass", words });
    expect(added.sentence).toBe('requirement "glass" added');
    expect(added.text).toBe(
      beam.replace(
        "\n\nsurroundings",
        "\n  - name: glass\n    need: at most 400 K\n    of: anchor temperature\n    at: hold\n    why: adhesive\n\nsurroundings",
      ),
    );
    expect(edited(added.text, { make: "remove", name: "glass" }).text).toBe(beam);
  });

  test("words are rewritten, added and taken away in place", () => {
    const next = edited(beam, { make: "rewrite", name: "travel", words: { need: "at least 3 um", why: "the slit" } });
    expect(next.text).toBe(
      beam.replace(
        "need: at least 2 um\n    of: steady travel\n    at: hold",
        "need: at least 3 um\n    of: steady travel\n    at: hold\n    why: the slit",
      ),
    );
    expect(next.sentence).toContain("travel need at least 2 um → at least 3 um");
    expect(edited(next.text, { make: "rewrite", name: "travel", words: { need: "at least 2 um", why: "" } }).text).toBe(beam);
    const second = edited(leafgate, { make: "rewrite", name: "current", limit: 2, words: { need: "at most 90 mA" } });
    expect(second.text).toBe(leafgate.replace("need: at most 80 mA\n        of: peak", "need: at most 90 mA\n        of: peak"));
  });

  test("a second limit makes a list of both; the last but one may go", () => {
    const two = edited(beam, {
      make: "add limit",
      name: "travel",
      words: { need: "at most 9 um", of: "steady travel", at: "hold" },
    });
    expect(two.text).toContain(
      "  - name: travel\n    limits:\n      - need: at least 2 um\n        of: steady travel\n        at: hold\n      - need: at most 9 um\n",
    );
    const one = edited(two.text, { make: "remove", name: "travel", limit: 2 });
    expect(() => edited(one.text, { make: "remove", name: "travel", limit: 1 })).toThrow("remove the requirement");
  });

  test("a requirement is renamed", () => {
    const { text, sentence } = edited(beam, { make: "rename", name: "travel", to: "stroke" });
    expect(text).toBe(beam.replace("name: travel", "name: stroke"));
    expect(sentence).toBe('requirement "travel" now called "stroke"');
  });

  test("refuses with a sentence", () => {
    const refuse = (text: string, edit: BriefEdit) => expect(() => editBrief(text, { file, edit }));
    refuse(beam, { make: "remove", name: "travle" }).toThrow(
      'Cannot change the brief: "travle" is not a requirement. The nearest is "travel"',
    );
    refuse(beam, { make: "add", name: "travel", words: {} }).toThrow('"travel" is a requirement already');
    refuse(beam, { make: "rename", name: "travel", to: "" }).toThrow("a requirement needs a name");
    refuse(beam, { make: "rewrite", name: "travel", limit: 2, words: { need: "at most 1 um" } }).toThrow("it has one limit");
    refuse(leafgate, { make: "rewrite", name: "current", words: { need: "at most 1 A" } }).toThrow(
      'Cannot change "current": it has 2 limits; say which, from 1 to 2',
    );
    refuse(leafgate, { make: "remove", name: "current", limit: 3 }).toThrow("its limits go from 1 to 2");
  });
});
