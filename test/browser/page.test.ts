import { mkdtempSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Bench, builtPage, openBench, root, untilAnswered, untilAtRest } from "./page-harness.ts";

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

const legWidth = '[data-key$="leg width"]';

describe("the live device", { timeout: 120_000 }, () => {
  test("shows the chip in words, its picture and what must hold", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    expect(await page.locator("h1").textContent()).toBe("Leafgate");
    expect(await page.locator(".rails li").count()).toBe(8);
    expect(await page.locator(legWidth).textContent()).toBe("6µm");
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("a leg made wider under the pointer changes what it draws; let go, it stands in the text; Ctrl Z takes it back", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    const currentOf = () => page.locator(".outcome .answer").first().textContent();
    const before = await currentOf();
    const box = (await page.locator(legWidth).boundingBox())!;
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 4, y);
    await page.mouse.move(x + 7, y, { steps: 3 });
    await page.waitForFunction((was) => document.querySelector(".outcome .answer")?.textContent !== was, before);
    expect(await page.locator(legWidth).getAttribute("class")).toContain("held");
    await page.mouse.up();
    await page.locator(".news strong").waitFor();
    expect(await page.locator(".news strong").textContent()).toContain("leg width");
    const widened = await page.locator(legWidth).textContent();
    expect(widened).not.toBe("6µm");
    await untilAtRest(page);
    expect(Number.parseFloat((await currentOf())!)).toBeGreaterThan(Number.parseFloat(before!));
    await page.getByRole("button", { name: "The text" }).click();
    const typed = await page.getByLabel("Text of the chip").inputValue();
    expect(typed).toContain(`leg width: ${Number.parseFloat(widened!)}`);
    await page.keyboard.press("Escape");
    await page.locator("body").click({ position: { x: 2, y: 2 } });
    await page.keyboard.press("Control+z");
    await expect
      .poll(() => page.getByLabel("Text of the chip").inputValue())
      .toBe(readFileSync(join(root, "examples", "02-leafgate", "chip.yaml"), "utf8"));
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("keys step a number, Escape puts it back, what is no number is refused in words", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    const number = page.locator(legWidth);
    await number.focus();
    await page.keyboard.press("ArrowRight");
    expect(await number.textContent()).not.toBe("6µm");
    await page.keyboard.press("Escape");
    await expect.poll(() => number.textContent()).toBe("6µm");
    await page.keyboard.press("Enter");
    await page.keyboard.type("wide");
    await page.keyboard.press("Enter");
    await page.getByRole("alert").waitFor();
    expect(await page.getByRole("alert").textContent()).toContain('got "6wide"');
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("the text is edited in place: what does not read is told with its line, and the device of before stays", async () => {
    const { page, complaints } = await bench.open({ view: "text" });
    await untilAnswered(page);
    const editor = page.getByLabel("Text of the chip");
    const text = await editor.inputValue();
    const line = text.split("\n").findIndex((words) => words.includes("width: leg width")) + 1;
    await editor.fill(text.replace(/leg width: [^ ]+ um/, "leg width: 6 V"));
    await page.getByRole("button", { name: "Keep the changes" }).click();
    await page.getByRole("alert").waitFor();
    expect(await page.getByRole("alert").textContent()).toContain(`Line ${line}`);
    await editor.fill(text);
    await page.getByRole("button", { name: "Keep the changes" }).click();
    await expect.poll(() => page.getByRole("alert").count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("a word lights its part and a part its word; the keys walk through the parts", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    const canvas = page.locator("canvas");
    await canvas.focus();
    await page.keyboard.press("ArrowRight");
    const first = await page.locator(".part-name").textContent();
    await page.keyboard.press("ArrowRight");
    expect(await page.locator(".part-name").textContent()).not.toBe(first);
    const box = (await canvas.boundingBox())!;
    // the blade stands over the middle of the picture, its rim in the middle of its width
    let found: string | null = null;
    for (let y = 0.1; y < 0.6 && found !== "blade"; y += 0.02) {
      await page.mouse.move(box.x + box.width / 2, box.y + y * box.height);
      found = (await page.locator(".part-name").count()) === 0 ? null : await page.locator(".part-name").textContent();
    }
    expect(found).toBe("blade");
    expect(await page.locator(".paragraph.lit").textContent()).toMatch(/^Blade/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("the point where it stands is a bead on its lines, and dragging it drives the device", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    await page.getByRole("button", { name: "what it does" }).click();
    const bead = page.locator(".bead").first();
    await bead.waitFor({ timeout: 30_000 });
    expect(await page.locator(".curve-plot").count()).toBe(4);
    const box = (await bead.boundingBox())!;
    await page.mouse.move(box.x + 7, box.y + 7);
    await page.mouse.down();
    await page.mouse.move(box.x - 40, box.y + 7, { steps: 4 });
    await page.mouse.up();
    await page.locator(".news strong").waitFor();
    expect(await page.locator(".news strong").textContent()).toMatch(/hold pads 10\.20 V → \d\.\d\d V/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("the picture and the plots are saved as SVG, PNG and data", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    const saved = async (label: string): Promise<{ name: string; bytes: Buffer }> => {
      const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: label }).click()]);
      return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
    };
    const svg = await saved("Save the picture as SVG");
    expect(svg.name).toBe("shutter at hold.svg");
    expect(svg.bytes.toString()).toMatch(/^<svg[\s\S]*<\/svg>\s*$/);
    const png = await saved("Save the picture as PNG");
    expect(png.bytes.subarray(1, 4).toString()).toBe("PNG");
    const data = await saved("Save the picture as data");
    expect(data.bytes.toString().split("\n")[0]).toBe("part,x (m),y (m),temperature (K)");
    await page.getByRole("button", { name: "what it does" }).click();
    const lines = await saved("Save the plot of steady travel as data");
    expect(lines.bytes.toString()).toContain('"hold pads (V), as built","steady travel (µm), as built"');
    expect((await saved("Save the plot of supply current as SVG")).bytes.toString()).toContain("<svg");
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("letters lead through the page and can be turned off; typing is never a command", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    await page.keyboard.press("l");
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("rail-row");
    await page.keyboard.press("m");
    expect(await page.evaluate(() => document.documentElement.dataset.mode)).toBe("night");
    await page.keyboard.press("?");
    await page.getByLabel("Name of a new chip").fill("m");
    await page.keyboard.press("m");
    expect(await page.evaluate(() => document.documentElement.dataset.mode)).toBe("night");
    await page.getByRole("button", { name: "Letters are on" }).click();
    await page.keyboard.press("m");
    expect(await page.evaluate(() => document.documentElement.dataset.mode)).toBe("night");
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("in print it is paper, whatever the screen, with nothing to press", async () => {
    const { page } = await bench.open({ mode: "amber" });
    await untilAtRest(page);
    await page.emulateMedia({ media: "print" });
    const stock = await page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue("--ink"));
    expect(stock.trim().toLowerCase()).toBe("#241e1b");
    expect(await page.getByRole("button", { name: "Paper" }).isVisible()).toBe(false);
    expect(await page.locator(".rails li").first().isVisible()).toBe(true);
    await page.close();
  });

  test("by touch a number is chosen and stepped by large targets; the steps are one change", async () => {
    const { page, complaints } = await bench.open({ width: 1180, height: 820, touch: true });
    await untilAtRest(page);
    await page.locator(legWidth).tap();
    const up = page.getByRole("button", { name: "leg width up" });
    const box = (await up.boundingBox())!;
    expect(box.width).toBeGreaterThanOrEqual(56);
    expect(box.height).toBeGreaterThanOrEqual(48);
    await up.tap();
    await up.tap();
    await page.locator(".news strong").waitFor();
    expect(await page.locator(".news strong").textContent()).toBe("leg width 6 um → 6.2 um");
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("the first screen and its fonts stay within what a first visit may take", () => {
    const built = builtPage;
    const packed = (name: string): number => gzipSync(readFileSync(join(built, name)), { level: 9 }).length;
    const script = ["page.js", "worker.js", "page.css", "mode-first.js", "index.html"].reduce(
      (sum, name) => sum + packed(name),
      0,
    );
    const fonts = readdirSync(join(built, "fonts")).reduce((sum, name) => sum + statSync(join(built, "fonts", name)).size, 0);
    expect(script).toBeLessThan(350_000);
    expect(fonts).toBeLessThan(230_000);
    // the page itself only shows: the engine is in the worker
    expect(packed("page.js")).toBeLessThan(packed("worker.js") / 4);
  });

  test("the single file opens from disk with no server and computes", async () => {
    const folder = mkdtempSync(join(tmpdir(), "waferwright-page-"));
    const path = join(folder, "waferwright.html");
    writeFileSync(path, readFileSync(join(root, "dist", "waferwright.html")));
    const { page, complaints } = await bench.open({ address: pathToFileURL(path).href });
    await untilAtRest(page);
    expect(await page.locator(".rails li").count()).toBe(8);
    expect(complaints).toEqual([]);
    await page.close();
  });
});
