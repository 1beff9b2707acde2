import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Bench, openBench, root, untilAnswered } from "./page-harness.ts";

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

/** One bent beam, whose region is small work; its current limit is what its size must fight with. */
const text = readFileSync(join(root, "examples", "01-one-bent-beam", "chip.yaml"), "utf8");

async function openSizes(opening: Parameters<Bench["open"]>[0] = {}): Promise<{ page: Page; complaints: string[] }> {
  const opened = await bench.open({ ...opening, view: "text" });
  const { page } = opened;
  await untilAnswered(page);
  await page.getByLabel("Text of the chip").fill(text);
  await page.getByRole("button", { name: "Keep the changes" }).click();
  await page.locator(".news strong").waitFor();
  await page.evaluate(() => {
    location.hash = "size";
  });
  await page.getByRole("heading", { name: "Where One bent beam may live" }).waitFor({ timeout: 30_000 });
  return opened;
}

const untilFound = async (page: Page): Promise<void> => {
  await page.locator(".trades").waitFor({ timeout: 60_000 });
  await page.waitForFunction(() => document.querySelector(".region figcaption")?.textContent?.includes("Clear ground"));
};
const beadOf = (page: Page) => page.getByRole("slider", { name: /^the design: / });
const textOf = async (page: Page): Promise<string> => {
  await page.getByRole("button", { name: "The text" }).click();
  const found = await page.getByLabel("Text of the chip").inputValue();
  await page.evaluate(() => {
    location.hash = "size";
  });
  await beadOf(page).waitFor();
  return found;
};
const widthIn = (words: string): number => Number(/leg width: ([\d.]+) um/.exec(words)![1]);

describe("where a design may live", { timeout: 180_000 }, () => {
  test("a map with its limits in words, the best adopted with one press and taken back with Ctrl Z", async () => {
    const { page, complaints } = await openSizes();
    await untilFound(page);
    expect(await page.locator("h1").textContent()).toBe("Where One bent beam may live");
    const edges = await page.locator(".region-map .edge-words").allTextContents();
    expect(edges.some((words) => words.startsWith("supply current at hold, at most 15 mA"))).toBe(true);
    const said = (await page.locator(".size-sentence").textContent())!;
    const [, present, best] = /keeps all limits in (\d+) in 100\. Best here is (\d+) in 100/.exec(said)!;
    expect(Number(best)).toBeGreaterThanOrEqual(Number(present));
    const widthBefore = widthIn(await textOf(page));
    await page.getByRole("button", { name: "Adopt the best" }).click();
    await page.locator(".news strong").waitFor();
    await expect.poll(() => page.getByRole("button", { name: "Adopt the best" }).isDisabled()).toBe(true);
    const adopted = await textOf(page);
    expect(adopted).not.toBe(text);
    await page.keyboard.press("Control+z");
    await expect.poll(() => textOf(page)).toBe(text);
    expect(widthBefore).toBe(8);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("the bead follows pointer and keys; ledger and text follow it, and the map stays", async () => {
    const { page, complaints } = await openSizes();
    await untilFound(page);
    const map = await page.locator(".region-map").first().innerHTML();
    const railsOf = () => page.locator(".short-rails").innerHTML();
    const before = await railsOf();
    const box = (await beadOf(page).boundingBox())!;
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 30, y - 24, { steps: 4 });
    await expect.poll(railsOf).not.toBe(before);
    await page.mouse.up();
    await page.locator(".news strong").waitFor();
    const dragged = await textOf(page);
    expect(dragged).not.toBe(text);
    expect(await page.locator(".region-map").first().innerHTML()).toBe(map);
    await beadOf(page).focus();
    const spoken = () => beadOf(page).getAttribute("aria-valuetext");
    const place = await spoken();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Shift+ArrowUp");
    expect(await spoken()).not.toBe(place);
    await page.keyboard.press("Escape");
    await expect.poll(spoken).toBe(place);
    expect(await textOf(page)).toBe(dragged);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("another size and another range are looked over; what is no range is refused in words", async () => {
    const { page, complaints } = await openSizes();
    await untilFound(page);
    const axis = await page.locator(".region-map .axis-name").first().textContent();
    await page
      .getByRole("button", { name: /^another size in place of/ })
      .first()
      .click();
    await page.getByRole("button", { name: "width of shuttle", exact: true }).click();
    await expect.poll(() => page.locator(".region-map .axis-name").first().textContent()).toBe("width of shuttle, µm");
    expect(axis).not.toBe("width of shuttle, µm");
    const end = page.getByRole("button", { name: /^width of shuttle, to, / });
    await end.click();
    await page.keyboard.press("Control+a");
    await page.keyboard.type("60 um");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.locator(".region-map .tick").allTextContents()).toContain("60");
    await page.getByRole("button", { name: /^width of shuttle, to, / }).click();
    await page.keyboard.press("Control+a");
    await page.keyboard.type("60 V");
    await page.keyboard.press("Enter");
    await page.getByRole("alert").first().waitFor();
    expect(await page.getByRole("alert").first().textContent()).toMatch(/60 V/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("a trade is tried, put back, adopted; work is stopped and taken up again", async () => {
    const { page, complaints } = await openSizes();
    await page.getByRole("button", { name: "Stop", exact: true }).click({ timeout: 60_000 });
    await page.getByText("Stopped. What was found stays.").waitFor();
    await page.getByRole("button", { name: "Work it out" }).click();
    await untilFound(page);
    const first = page.locator(".trades li").first();
    const rails = await page.locator(".short-rails").innerHTML();
    await first.getByRole("button", { name: /^Try / }).click();
    await expect.poll(() => page.locator(".short-rails").innerHTML()).not.toBe(rails);
    await first.getByRole("button", { name: "Put back" }).click();
    await first.getByRole("button", { name: /^Try / }).click();
    await first.getByRole("button", { name: "Adopt" }).click();
    await page.locator(".news strong").waitFor();
    expect(await textOf(page)).not.toBe(text);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("the map is saved as a picture and as data", async () => {
    const { page, complaints } = await openSizes({ mode: "night" });
    await untilFound(page);
    for (const [word, start] of [
      ["SVG", "<svg"],
      ["data", "length of legs (m)"],
    ] as const) {
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page.getByRole("button", { name: `Save the map as ${word}` }).click(),
      ]);
      const saved = readFileSync(await download.path(), "utf8");
      expect(saved.slice(0, 400)).toContain(start);
    }
    expect(complaints).toEqual([]);
    await page.close();
  });
});
