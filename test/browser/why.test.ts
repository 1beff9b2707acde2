/** Why a number is what it is, on the page: opened from its rail by the keyboard, read as a table, and one change of it taken and taken back. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Bench, openBench, untilAtRest } from "./page-harness.ts";

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
}, 120_000);
afterAll(() => bench.close());

test("the travel of Leafgate is explained under its rail, and the leg width that it asks for goes into the text", {
  timeout: 240_000,
}, async () => {
  const { page, complaints } = await bench.open();
  await untilAtRest(page);
  const rail = page.locator(".rails button", { hasText: "travel" }).first();
  await rail.focus();
  await page.keyboard.press("Enter");
  const why = page.getByRole("region", { name: /^Why steady travel at hold is 8\.\d+ µm$/ });
  await why.waitFor({ timeout: 60_000 });
  const hops = why.getByRole("table", { name: "From what drives it to steady travel at hold" });
  expect(await hops.getByRole("row").count()).toBe(8);
  const current = await hops.getByRole("row", { name: /^supply current/ }).textContent();
  expect(current).toMatch(/supply current[\d.]+ mA[\d.]+ mAvoltage over hot resistance/);
  const movers = why.getByRole("table", { name: "What moves it from as drawn to as built" });
  expect(await movers.getByRole("row", { name: /edges inside their target/ }).textContent()).toContain("9.737 µm");
  expect(await why.locator(".arc").count()).toBe(2);
  await why.getByRole("button", { name: /^leg width/ }).click();
  await expect.poll(() => page.locator(".news strong").textContent()).toMatch(/^leg width 6 um → /);
  const after = page.getByRole("region", { name: /^Why steady travel at hold is (10\.00|9\.99\d|10\.0) µm$/ });
  await after.waitFor({ timeout: 60_000 });
  await page.locator("body").click({ position: { x: 2, y: 2 } });
  await page.keyboard.press("Control+z");
  await why.waitFor({ timeout: 60_000 });
  expect(complaints).toEqual([]);
  await page.close();
});
