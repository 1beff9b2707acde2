import { describe, expect, it } from "vitest";
import { nearestName } from "./nearest.ts";

describe("nearestName", () => {
  const words = ["resistivity", "silicon thickness", "gap under silicon", "flow", "steady travel"];
  it.each([
    ["resistvity", "resistivity"],
    ["ressistivity", "resistivity"],
    ["resistivitx", "resistivity"],
    ["reisstivity", "resistivity"],
    ["Resistivity", "resistivity"],
    ["silicon thicknes", "silicon thickness"],
    ["folw", "flow"],
    ["travel", "steady travel"],
    ["flow", "flow"],
  ])("%s means %s", (typed, meant) => {
    expect(nearestName(typed, words)).toBe(meant);
  });

  it("stays silent where nothing is near", () => {
    for (const word of ["", "xyz", "voltage", "constructor", "a".repeat(61), "a".repeat(100_000)])
      expect(nearestName(word, words)).toBeUndefined();
    expect(nearestName("flow", [])).toBeUndefined();
  });

  it("counts a swap of neighbours as one change, and takes the first of equals", () => {
    // a swap counted as two changes would be out of reach of a word of three letters
    expect(nearestName("abc", ["acb"])).toBe("acb");
    expect(nearestName("abc", ["cab"])).toBeUndefined();
    expect(nearestName("abc", ["abd", "abe"])).toBe("abd");
  });
});
