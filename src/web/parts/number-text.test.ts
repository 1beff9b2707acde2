import { expect, test } from "vitest";
import { prettyUnit, stepped } from "./number-text.ts";

test("a step moves the last decimal, and no minus stays before a zero", () => {
  expect(stepped("6", { steps: 1, decimals: 1, whole: false })).toBe("6.1");
  expect(stepped("10.20", { steps: -10, decimals: 2, whole: false })).toBe("10.10");
  expect(stepped("0.1", { steps: -1, decimals: 1, whole: false })).toBe("0.0");
  expect(stepped("\u22120.1", { steps: -1, decimals: 1, whole: false })).toBe("-0.2");
  expect(stepped("6", { steps: 2, decimals: 1, whole: true })).toBe("8");
});

test("units are shown as people write them", () => {
  expect(["um", "ohm", "uN/um", "deg", "W/(m K)"].map(prettyUnit)).toEqual(["µm", "Ω", "µN/µm", "°", "W/(m K)"]);
});
