import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Bench, openBench, untilAnswered } from "./page-harness.ts";

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

describe("the text as it is written", { timeout: 120_000 }, () => {
  async function openEditor(opening: { readonly touch?: boolean; readonly width?: number; readonly height?: number } = {}) {
    const { page, complaints } = await bench.open({ view: "text", ...opening });
    // the text stands there before anything is worked out
    const editor = page.getByLabel("Text of the chip");
    await expect.poll(() => editor.inputValue()).toContain("chip: Leafgate");
    const placeCaret = async (behind: string): Promise<void> => {
      await editor.evaluate((field: HTMLTextAreaElement, words) => {
        field.focus();
        const at = field.value.indexOf(words) + words.length;
        field.setSelectionRange(at, at);
      }, behind);
    };
    const options = page.getByRole("option");
    const chosen = () => page.locator('[role="option"][aria-selected="true"] .offer-text').allTextContents();
    return { page, complaints, editor, placeCaret, options, chosen };
  }

  test("a field, a word and a unit are offered, taken by keys, kept, and worked with", async () => {
    const { page, complaints, editor, placeCaret, options, chosen } = await openEditor();
    await untilAnswered(page);
    const before = await editor.inputValue();
    await placeCaret("  cases:");
    await page.keyboard.type("\n    trial:\n      pa");
    await expect.poll(chosen).toEqual(["pads"]);
    expect(await options.first().textContent()).toContain("Voltage held at the pads.");
    // what assistive means are told: the list, and the offer that Enter takes
    const active = (await editor.getAttribute("aria-activedescendant"))!;
    expect(await page.locator(`#${active} .offer-text`).textContent()).toBe("pads");
    expect(await editor.getAttribute("aria-controls")).toBe(await page.getByRole("listbox").getAttribute("id"));
    await page.keyboard.press("Enter");
    // the value is asked for next; nothing is chosen until one chooses
    await expect.poll(() => options.count()).toBeGreaterThan(2);
    expect(await chosen()).toEqual([]);
    await page.keyboard.type("7 ");
    await page.keyboard.type("m");
    await expect.poll(chosen).toEqual(["mV"]);
    await page.keyboard.press("Backspace");
    await page.keyboard.type("V");
    // a whole word is not taken for another by Enter
    await expect.poll(chosen).toEqual([]);
    await page.keyboard.press("Escape");
    expect(await options.count()).toBe(0);
    await page.keyboard.type("\n      ga");
    await expect.poll(chosen).toEqual(["gas"]);
    await page.keyboard.press("Tab");
    await expect.poll(() => options.count()).toBeGreaterThan(3);
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    const word = (await chosen())[0]!;
    await page.keyboard.press("Enter");
    await page.keyboard.press("Control+s");
    const after = await editor.inputValue();
    expect(after).toBe(before.replace("  cases:\n", `  cases:\n    trial:\n      pads: 7 V\n      gas: ${word}\n`));
    // it reads: no alert, and the case is there to be looked at
    await expect.poll(() => page.getByRole("button", { name: "Keep the changes" }).isDisabled()).toBe(true);
    expect(await page.getByRole("alert").count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("Tab leaves the text where no list is open; Ctrl and the blank key open it anywhere", async () => {
    const { page, complaints, editor, placeCaret, options } = await openEditor();
    await placeCaret("    need: ");
    await page.keyboard.press("Control+ ");
    await expect.poll(() => page.locator(".wanted").count()).toBe(1);
    await page.keyboard.press("Escape");
    expect(await page.locator(".completion").count()).toBe(0);
    await placeCaret("    of: ");
    await page.keyboard.press("Control+ ");
    await expect.poll(() => options.count()).toBeGreaterThan(20);
    await page.keyboard.press("Escape");
    await page.keyboard.press("Tab");
    expect(await editor.evaluate((field) => document.activeElement === field)).toBe(false);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("what does not read is told at its line while one writes, and goes when it is mended; nothing is kept meanwhile", async () => {
    const { page, complaints, editor, placeCaret } = await openEditor();
    const before = await editor.inputValue();
    const line = before.slice(0, before.indexOf("version: 1")).split("\n").length;
    await placeCaret("version: 1");
    await page.keyboard.type("x");
    const told = page.locator(".draft-problems li");
    await expect.poll(() => told.first().textContent()).toContain(`Line ${line}`);
    expect(await page.locator(".line-numbers .wrong").textContent()).toContain(String(line));
    const note = (await page.locator(".line-notes p").boundingBox())!;
    const number = (await page.locator(".line-numbers .wrong").boundingBox())!;
    expect(Math.abs(note.y - number.y)).toBeLessThan(3);
    await page.keyboard.press("Backspace");
    await expect.poll(() => told.count()).toBe(0);
    expect(await editor.inputValue()).toBe(before);
    // the word at the foot leads to the line
    await editor.fill(`${before}nothing: 3\n`);
    await told.first().getByRole("button").click();
    const caret = await editor.evaluate((field: HTMLTextAreaElement) => field.selectionStart);
    expect(caret).toBe(before.length);
    await page.getByRole("button", { name: "Put it back" }).click();
    await expect.poll(() => told.count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("a finger asks for what may stand at the caret and takes it; every word is large enough", async () => {
    const { page, complaints, editor, placeCaret, options } = await openEditor({ touch: true, width: 390, height: 844 });
    const before = await editor.inputValue();
    await placeCaret("    at: hold\n    w");
    await editor.evaluate((field: HTMLTextAreaElement) =>
      field.setSelectionRange(field.selectionStart - 1, field.selectionStart - 1),
    );
    await page.getByRole("button", { name: "What may stand here" }).tap();
    await options.first().waitFor();
    const box = (await options.first().boundingBox())!;
    expect(box.height).toBeGreaterThanOrEqual(44);
    expect(box.x).toBeGreaterThanOrEqual(0);
    expect(box.x + box.width).toBeLessThanOrEqual(390);
    await options.filter({ hasText: "where" }).first().tap();
    expect(await editor.inputValue()).toBe(before.replace("    at: hold\n    why:", "    at: hold\n    where:"));
    expect(complaints).toEqual([]);
    await page.close();
  });
});
