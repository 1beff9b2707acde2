/** The picture of the device under pointer, keys and fingers. */
import { readFileSync } from "node:fs";
import type { Locator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Bench, openBench, untilAtRest } from "./page-harness.ts";

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

const legLength = '[data-key$="drive.legs.length"]';

interface Pixel {
  readonly x: number;
  readonly y: number;
}

/** Looks with the pointer for the end of a beam that the words beside it say is set by a number. */
async function findEnd(page: Page, words: string): Promise<Pixel> {
  const box = (await page.locator("canvas").boundingBox())!;
  for (let y = 0.5; y < 0.75; y += 0.02)
    for (let x = 0.3; x < 0.5; x += 0.01) {
      const at = { x: box.x + x * box.width, y: box.y + y * box.height };
      await page.mouse.move(at.x, at.y);
      const found = page.locator(".at-pointer");
      if ((await found.count()) > 0 && (await found.textContent())!.includes(words)) return at;
    }
  throw new Error(`no end that is set by ${words}`);
}

/** Ends are asked for once the page is at rest. */
async function withEnds(page: Page): Promise<Pixel> {
  await untilAtRest(page);
  await expect.poll(() => findEnd(page, "legs length").catch(() => undefined), { timeout: 30_000 }).toBeDefined();
  return findEnd(page, "legs length");
}

const digitsOf = async (number: Locator): Promise<number> => Number.parseFloat((await number.textContent())!);

describe("ends of beams", { timeout: 120_000 }, () => {
  test("a leg is made longer by its end; the words beside the pointer say so, it is one change, and Ctrl Z takes it back", async () => {
    const { page, complaints } = await bench.open();
    const at = await withEnds(page);
    expect(await page.locator(".at-pointer").textContent()).toContain("legs length 800 µm");
    await page.mouse.down();
    await page.mouse.move(at.x - 6, at.y);
    await page.mouse.move(at.x - 10, at.y, { steps: 3 });
    await expect.poll(() => page.locator(".at-pointer").textContent()).toMatch(/legs length 800 → [89]\d\d µm/);
    expect(await page.locator(legLength).getAttribute("class")).toContain("held");
    const inHand = await digitsOf(page.locator(legLength));
    await page.mouse.up();
    await page.locator(".news strong").waitFor();
    expect(await page.locator(".news strong").textContent()).toContain(`legs length 800 um → ${inHand} um`);
    await page.keyboard.press("Control+z");
    await expect.poll(() => digitsOf(page.locator(legLength))).toBe(800);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("drawn aslant two numbers follow, still as one change; Escape puts both back", async () => {
    const { page, complaints } = await bench.open();
    const at = await withEnds(page);
    await page.mouse.down();
    await page.mouse.move(at.x - 8, at.y + 4);
    await page.mouse.move(at.x - 8, at.y + 6, { steps: 2 });
    await expect.poll(() => page.locator(".live.held").count()).toBe(2);
    await page.keyboard.press("Escape");
    await expect.poll(() => page.locator(".live.held").count()).toBe(0);
    await page.mouse.up();
    expect(await digitsOf(page.locator(legLength))).toBe(800);
    expect(await page.locator(".news strong").count()).toBe(0);
    const again = await findEnd(page, "legs length");
    await page.mouse.down();
    await page.mouse.move(again.x - 8, again.y + 6, { steps: 3 });
    await page.mouse.up();
    await page.locator(".news strong").waitFor();
    expect(await page.locator(".news strong").textContent()).toMatch(/legs length 800 um → .* um, .*tilt 2\.5 deg → .* deg/);
    await page.keyboard.press("Control+z");
    await expect.poll(() => digitsOf(page.locator(legLength))).toBe(800);
    expect(await page.locator('[data-key$="drive.legs.tilt"]').textContent()).toBe("2.5°");
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("a finger takes hold from further away than a mouse", async () => {
    const { page, complaints } = await bench.open({ width: 1180, height: 820, touch: true });
    const { x, y } = await withEnds(page);
    const touches = await page.context().newCDPSession(page);
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", points: readonly Pixel[]) =>
      touches.send("Input.dispatchTouchEvent", { type, touchPoints: [...points] });
    await page.mouse.move(2, 2);
    await touch("touchStart", [{ x: x - 10, y }]);
    for (const step of [4, 8, 12]) await touch("touchMove", [{ x: x - 10 - step, y }]);
    await expect.poll(() => page.locator(".at-pointer").textContent()).toMatch(/legs length 800 → [89]\d\d µm/);
    await touch("touchEnd", []);
    await page.locator(".news strong").waitFor();
    expect(await page.locator(".news strong").textContent()).toContain("legs length 800 um → ");
    expect(complaints).toEqual([]);
    await page.close();
  });
});

/** Sum over the pixels of the picture: another one as soon as anything is drawn elsewhere. */
const looks = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const canvas = document.querySelector("canvas")!;
    return canvas.toDataURL();
  });

const save = async (page: Page, label: string): Promise<{ readonly name: string; readonly text: string }> => {
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: label }).click()]);
  return { name: download.suggestedFilename(), text: readFileSync(await download.path(), "latin1") };
};

describe("modes", { timeout: 120_000 }, () => {
  test("a mode swings at the slowdown that its caption says, stops, and is chosen by its frequency", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    await page.getByRole("button", { name: "how it swings" }).click();
    const modes = page.getByRole("group", { name: "Mode in view" }).getByRole("button");
    await expect.poll(() => modes.count(), { timeout: 30_000 }).toBe(6);
    const caption = page.locator(".plate figcaption");
    expect(await caption.textContent()).toMatch(
      /Mode 1 of shutter at hold, out of the plane: \d+\.\d kHz, drawn \d+\s000 times slower/,
    );
    const first = await looks(page);
    await expect.poll(() => looks(page)).not.toBe(first);
    await page.getByRole("button", { name: "stop", exact: true }).click();
    const stopped = await looks(page);
    await page.waitForTimeout(300);
    expect(await looks(page)).toBe(stopped);
    await page.getByRole("button", { name: /^Mode 2, .* in the plane$/ }).click();
    expect(await caption.textContent()).toMatch(/Motion drawn \d+ million times as large as its unrest by heat, \d+ pm/);
    expect(await looks(page)).not.toBe(stopped);
    await page.locator(".plate canvas").focus();
    await page.keyboard.press("ArrowRight");
    expect(await caption.textContent()).toContain("Mode 3 of shutter");
    await page.keyboard.press(" ");
    const moving = await looks(page);
    await expect.poll(() => looks(page)).not.toBe(moving);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("who wants no motion sees both extremes, still; they are saved as SVG, PNG and data", async () => {
    const { page, complaints } = await bench.open();
    await page.emulateMedia({ reducedMotion: "reduce" });
    await page.reload();
    await untilAtRest(page);
    await page.getByRole("button", { name: "how it swings" }).click();
    await page.getByRole("button", { name: /^Mode 2, / }).click();
    const still = await looks(page);
    await page.waitForTimeout(300);
    expect(await looks(page)).toBe(still);
    expect(await page.getByRole("button", { name: "stop", exact: true }).count()).toBe(0);
    const svg = await save(page, "Save the mode as SVG");
    expect(svg.name).toBe("shutter at hold, mode 2.svg");
    expect(svg.text).toContain("and the other extreme");
    expect((await save(page, "Save the mode as PNG")).text.slice(1, 4)).toBe("PNG");
    expect((await save(page, "Save the mode as data")).text.split("\n")[0]).toBe("part,x (m),y (m),motion x,motion y,motion z");
    expect(complaints).toEqual([]);
    await page.close();
  });
});

describe("the loupe", { timeout: 120_000 }, () => {
  test("a letter brings it, it says what stands in its middle, the arrows move it, a letter takes it away", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    await page.keyboard.press("o");
    const found = page.locator(".found-line");
    await found.waitFor();
    const box = (await page.locator(".plate canvas").boundingBox())!;
    const words: string[] = [];
    // across the legs on the left, which stand between the anchor and the middle
    for (let y = 0.55; y < 0.66; y += 0.004) {
      await page.mouse.move(box.x + 0.42 * box.width, box.y + y * box.height);
      words.push((await found.textContent())!);
    }
    expect(words.some((line) => /^drive leg \d left is 6\.00 µm wide as drawn, 4\.80 µm as built\.$/.test(line))).toBe(true);
    expect(
      words.some((line) => /^A gap of [\d.]+ µm as drawn, .* between drive leg \d left and drive leg \d left\.$/.test(line)),
    ).toBe(true);
    expect(await page.locator(".plate figcaption").textContent()).toMatch(
      /Loupe 20 times as large as the picture, \d+ µm across/,
    );
    const before = await looks(page);
    await page.locator(".plate canvas").focus();
    await page.keyboard.press("ArrowUp");
    await expect.poll(() => looks(page)).not.toBe(before);
    await page.getByRole("button", { name: "Loupe 80 times as large as the picture" }).click();
    expect(await page.locator(".plate figcaption").textContent()).toContain("Loupe 80 times");
    expect((await save(page, "Save the loupe as SVG")).text).toContain("filled as built, dashed as drawn");
    expect((await save(page, "Save the loupe as PNG")).text.slice(1, 4)).toBe("PNG");
    expect((await save(page, "Save the loupe as data")).text.split("\n")[0]).toBe("layer,outline,x (m),y (m)");
    await page.keyboard.press("o");
    await expect.poll(() => found.count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("a finger leads it and does not cover it", async () => {
    const { page, complaints } = await bench.open({ width: 390, height: 844, touch: true });
    await untilAtRest(page);
    await page.getByRole("button", { name: "loupe", exact: true }).tap();
    const found = page.locator(".found-line");
    await found.waitFor();
    const canvas = page.locator(".plate canvas");
    await canvas.scrollIntoViewIfNeeded();
    const box = (await canvas.boundingBox())!;
    const touches = await page.context().newCDPSession(page);
    const at = (x: number) => [{ x: box.x + x * box.width, y: box.y + 0.7 * box.height }];
    await touches.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: at(0.3) });
    await touches.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: at(0.28) });
    await expect.poll(() => found.textContent()).toMatch(/^drive anchor left is \d+\.\d µm wide/);
    await touches.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
    expect(await found.count()).toBe(1);
    expect(complaints).toEqual([]);
    await page.close();
  });
});

describe("lines of equal warmth", { timeout: 120_000 }, () => {
  test("stand in Amber without asking, elsewhere at one's choice, and in what is saved", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    const without = await looks(page);
    expect((await save(page, "Save the picture as SVG")).text.includes(">400 K<")).toBe(false);
    await page.getByRole("button", { name: "lines of equal warmth" }).click();
    await expect.poll(() => looks(page)).not.toBe(without);
    expect((await save(page, "Save the picture as SVG")).text.includes(">400 K<")).toBe(true);
    await page.getByRole("button", { name: "lines of equal warmth" }).click();
    await page.getByRole("button", { name: "Amber" }).click();
    expect(await page.getByRole("button", { name: "lines of equal warmth" }).count()).toBe(0);
    expect((await save(page, "Save the picture as SVG")).text.includes(">400 K<")).toBe(true);
    expect(complaints).toEqual([]);
    await page.close();
  });
});

describe("the layers of the device", { timeout: 120_000 }, () => {
  test("stand one above the other, turn under pointer and keys, grow and part, and are saved", async () => {
    const { page, complaints } = await bench.open();
    await untilAtRest(page);
    await page.getByRole("button", { name: "its layers" }).click();
    await page.getByRole("button", { name: "Save the layers as SVG" }).waitFor();
    const canvas = page.locator("figure.plate canvas");
    expect(await canvas.getAttribute("aria-label")).toContain("silicon of 40.0 µm over a recess of 7.00 µm in the glass.");
    const painted = () => canvas.evaluate((element) => (element as HTMLCanvasElement).toDataURL());
    let before = await painted();
    const hasChanged = async (): Promise<void> => {
      await expect.poll(painted).not.toBe(before);
      before = await painted();
    };
    const box = (await canvas.boundingBox())!;
    await page.mouse.move(box.x + 100, box.y + 100);
    await page.mouse.down();
    await page.mouse.move(box.x + 160, box.y + 80, { steps: 3 });
    await page.mouse.up();
    await hasChanged();
    await canvas.focus();
    for (const key of ["ArrowLeft", "+", "Shift+ArrowUp", "0"]) {
      await page.keyboard.press(key);
      await hasChanged();
    }
    await page.getByRole("button", { name: "pulled apart" }).click();
    await page.getByRole("button", { name: "× 3" }).click();
    expect(await page.locator("figure.plate .second-line").textContent()).toBe(
      "Heights drawn 3 times as large, the layers pulled apart. Metal has no height of its own here.",
    );
    expect((await save(page, "Save the layers as data")).text.split("\n")[0]).toBe("layer,outline,x (m),y (m),from (m),to (m)");
    expect((await save(page, "Save the layers as SVG")).text).toContain("Heights drawn 3 times as large");
    expect(complaints).toEqual([]);
    await page.close();
  });
});
