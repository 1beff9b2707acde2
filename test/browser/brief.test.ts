/** The brief on the page: a requirement is added, rewritten and removed, what contradicts itself is told at once, and all is taken back. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Bench, openBench, root, untilAnswered } from "./page-harness.ts";

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
}, 120_000);
afterAll(() => bench.close());

const textOf = (name: string): string => readFileSync(join(root, "examples", name, "chip.yaml"), "utf8");

test("a requirement is written from the vocabulary, contradicts another, is rewritten, removed and taken back", {
  timeout: 180_000,
}, async () => {
  const { page, complaints } = await bench.open({ view: "brief" });
  await untilAnswered(page);
  const news = page.locator(".news strong");
  await page.getByRole("button", { name: "Add a requirement" }).click();
  await page.getByLabel("What the team calls it").fill("short stroke");
  await page.getByLabel("It is about").fill("steady trav");
  await page.getByRole("button", { name: "steady travel", exact: true }).click();
  await page.getByRole("button", { name: "hold", exact: true }).click();
  await page.locator(".requirement-form").getByLabel("Limit").fill("at most 10 V");
  await page.getByRole("button", { name: "Keep it" }).click();
  await page.locator(".requirement-form .refusal").waitFor();
  expect(await page.locator(".requirement-form .refusal").textContent()).toContain("its metric is a length");
  await page.locator(".requirement-form").getByLabel("Limit").fill("at most 2 um");
  await page.getByRole("button", { name: "Keep it" }).click();
  await expect.poll(() => news.textContent()).toBe('requirement "short stroke" added');
  const contradictions = page.getByRole("alert", { name: "What contradicts itself" });
  await contradictions.waitFor();
  expect(await contradictions.textContent()).toContain('"travel" and "short stroke" cannot both hold');

  await page.getByRole("button", { name: "limit of short stroke" }).click();
  await page.getByRole("textbox", { name: "limit of short stroke" }).fill("at most 20 um");
  await page.keyboard.press("Enter");
  await expect.poll(() => news.textContent()).toBe("short stroke need at most 2 um → at most 20 um");
  await expect.poll(() => contradictions.count()).toBe(0);

  await page.getByRole("button", { name: "name: short stroke" }).click();
  await page.getByRole("textbox", { name: "name" }).fill("no further");
  await page.keyboard.press("Enter");
  await expect.poll(() => news.textContent()).toBe('requirement "short stroke" now called "no further"');
  await page.getByRole("button", { name: "Remove it: no further" }).click();
  await expect.poll(() => news.textContent()).toBe('requirement "no further" removed');
  await page.getByRole("button", { name: "The text" }).click();
  expect(await page.getByLabel("Text of the chip").inputValue()).toBe(textOf("02-leafgate"));
  await page.locator("body").click({ position: { x: 2, y: 2 } });
  for (let i = 0; i < 4; i++) await page.keyboard.press("Control+z");
  await expect.poll(() => page.getByLabel("Text of the chip").inputValue()).toBe(textOf("02-leafgate"));
  expect(complaints).toEqual([]);
  await page.close();
});

test("a chip without requirements has its ledger heading, and says where to begin", { timeout: 120_000 }, async () => {
  const { page, complaints } = await bench.open({ view: "text" });
  await untilAnswered(page);
  const editor = page.getByLabel("Text of the chip");
  const text = await editor.inputValue();
  await editor.fill(text.replace(/brief:\n(?: .*\n)+/, "brief: []\n"));
  await page.getByRole("button", { name: "Keep the changes" }).click();
  const ledger = page.getByRole("region", { name: "What must hold" });
  await ledger.getByText("Nothing must hold yet").waitFor();
  await ledger.getByRole("button", { name: "Write the brief" }).click();
  await page.getByRole("button", { name: "Add a requirement" }).waitFor();
  expect(await ledger.getByRole("heading", { name: "What must hold" }).count()).toBe(1);
  expect(complaints).toEqual([]);
  await page.close();
});
