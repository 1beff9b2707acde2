import { describe, expect, test } from "vitest";
import { describeDifference } from "./difference.ts";

const before = `chip: c
version: 1
parameters:
  leg width: 6 um    # target
drive:
  cases:
    hold: { pads: 10 V }
brief:
  - name: travel
    need: at least 5 um
  - name: current
    need: at most 80 mA
`;

describe("what changed between two texts", () => {
  test("one value is told by its short path with both numbers", () => {
    expect(describeDifference(before, before.replace("6 um", "6.8 um"))).toBe("leg width 6 um → 6.8 um");
    expect(describeDifference(before, before.replace("10 V", "9 V"))).toBe("hold pads 10 V → 9 V");
  });

  test("entries of a list go by their names, so that a new one in front of them changes nothing else", () => {
    const put = before.replace("brief:\n", "brief:\n  - name: power\n    need: at most 1 W\n");
    expect(describeDifference(before, put)).toBe("2 values, first power name added");
    expect(describeDifference(put, before)).toBe("2 values, first power name removed");
    expect(describeDifference(before, before.replace("80 mA", "70 mA"))).toBe("current need at most 80 mA → at most 70 mA");
  });

  test("two values are both told, more are counted; comments and layout alone are told as such", () => {
    const both = before.replace("6 um", "7 um").replace("10 V", "9 V");
    expect(describeDifference(before, both)).toBe("leg width 6 um → 7 um, hold pads 10 V → 9 V");
    const more = both.replace("80 mA", "70 mA");
    expect(describeDifference(before, more)).toMatch(/^3 values, first .* → /);
    expect(describeDifference(before, before.replace("# target", "# as ordered"))).toBe("comments and layout");
  });

  test("a text that does not parse can only be told as a whole", () => {
    expect(describeDifference(before, "chip: [")).toBe("the text as a whole");
  });
});
