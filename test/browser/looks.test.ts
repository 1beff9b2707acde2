/** What holds for every view in every mode: no blue in Amber, nothing an aid to the disabled stumbles over, nothing wider than the page. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Bench, openBench, untilAtRest } from "./page-harness.ts";
import { views } from "./views.ts";

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

const sizes = [
  { width: 1440, height: 900 },
  { width: 1180, height: 820 },
  { width: 390, height: 844 },
] as const;

/** Pixels of a picture of the page with any blue. */
async function bluePixels(page: Page): Promise<number> {
  const picture = (await page.screenshot()).toString("base64");
  const blank = await bench.browser.newPage();
  const count = await blank.evaluate(async (data) => {
    const image = new Image();
    image.src = `data:image/png;base64,${data}`;
    await image.decode();
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [image.width, image.height];
    const context = canvas.getContext("2d", { colorSpace: "srgb" })!;
    context.drawImage(image, 0, 0);
    const { data: pixels } = context.getImageData(0, 0, image.width, image.height);
    let found = 0;
    for (let i = 2; i < pixels.length; i += 4) if (pixels[i]! > 0) found++;
    return found;
  }, picture);
  await blank.close();
  return count;
}

test("Amber paints no pixel with blue, in any view and size, with a number in hand, with the focus ring, with text chosen", {
  timeout: 240_000,
}, async () => {
  const found: string[] = [];
  for (const size of sizes) {
    const { page } = await bench.open({ mode: "amber", ...size });
    await untilAtRest(page);
    for (const view of views) {
      await page.evaluate((name) => {
        location.hash = name;
      }, view);
      await page.waitForTimeout(150);
      await page.keyboard.press("Tab");
      await page.keyboard.press("Control+a");
      const blue = await bluePixels(page);
      if (blue > 0) found.push(`${view} at ${size.width}: ${blue}`);
    }
    await page.evaluate(() => {
      location.hash = "predict";
    });
    await page.locator(".live").first().focus();
    await page.keyboard.press("ArrowRight");
    const blue = await bluePixels(page);
    if (blue > 0) found.push(`held at ${size.width}: ${blue}`);
    await page.close();
  }
  expect(found).toEqual([]);
});

test("no view has anything that axe objects to, and none is wider than its window", { timeout: 240_000 }, async () => {
  const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
  const objections: string[] = [];
  for (const [i, mode] of (["paper", "night", "amber"] as const).entries()) {
    const { page, complaints } = await bench.open({ mode, ...sizes[i]! });
    await untilAtRest(page);
    // the tester comes in from outside, past the policy of the page
    await page.evaluate(readFileSync(axe, "utf8"));
    for (const view of views) {
      await page.evaluate((name) => {
        location.hash = name;
      }, view);
      await page.waitForTimeout(150);
      const found = await page.evaluate(async () => {
        const { axe: tester } = globalThis as unknown as {
          axe: { run(): Promise<{ violations: { id: string; nodes: { html: string; failureSummary?: string }[] }[] }> };
        };
        const { violations } = await tester.run();
        return violations.flatMap(({ id, nodes }) =>
          nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary ?? ""}`),
        );
      });
      objections.push(...found.map((words) => `${view} in ${mode}: ${words}`));
      const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      if (over > 0) objections.push(`${view} at ${sizes[i]!.width}: ${over} px wider than its window`);
    }
    objections.push(...complaints);
    await page.close();
  }
  expect(objections).toEqual([]);
});
