/** The page on a real folder behind the real server: what is changed here, in an editor, or in both at once. */
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type RunningServer, startServer } from "../../src/server/index.ts";
import { type Bench, builtPage, openBench, root, untilAnswered, untilAtRest } from "./page-harness.ts";

const example = readFileSync(join(root, "examples", "02-leafgate", "chip.yaml"), "utf8");
const legWidth = '[data-key$="leg width"]';
let bench: Bench;
let server: RunningServer;
let path: string;

beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());
beforeEach(async () => {
  const folder = mkdtempSync(join(tmpdir(), "waferwright-folder-"));
  path = join(folder, "chip.yaml");
  writeFileSync(path, example);
  server = await startServer({ folders: [folder], page: builtPage, port: 0 });
  return () => server.close();
});

const onDisk = (): string => readFileSync(path, "utf8");
const outside = (from: string, to: string): void => writeFileSync(path, onDisk().replace(from, to));
const open = () => bench.open({ address: server.address.replace(/#.*/, ""), view: server.address.replace(/^.*#/, "") });

describe("one text, whoever writes it", { timeout: 120_000 }, () => {
  test("the token leaves the address; a number let go is saved with all comments; an editor's change appears; undo goes across both", async () => {
    const { page, complaints } = await open();
    await untilAtRest(page);
    expect(page.url()).not.toContain(server.token);
    await page.locator(legWidth).focus();
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Enter");
    await expect.poll(onDisk).toBe(example.replace("leg width: 6 um ", "leg width: 7.0 um "));
    await page.waitForTimeout(300);
    outside("length: 800 um", "length: 820 um");
    await page.locator('[data-key$="legs.length"]', { hasText: "820" }).waitFor({ timeout: 5000 });
    expect(await page.locator(".news strong").textContent()).toContain("800 um → 820 um");
    await page.locator("h1").click();
    await page.keyboard.press("Control+z");
    await expect.poll(onDisk).toBe(example.replace("leg width: 6 um ", "leg width: 7.0 um "));
    await page.keyboard.press("Control+z");
    await expect.poll(onDisk).toBe(example);
    await page.keyboard.press("Control+y");
    await expect.poll(onDisk).toBe(example.replace("leg width: 6 um ", "leg width: 7.0 um "));
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("a text that an editor breaks is told with its line; the device of before stays; mended, it is back", async () => {
    const { page, complaints } = await open();
    await untilAnswered(page);
    outside("leg width: 6 um", "leg width: [6 um");
    await page.getByRole("alert").waitFor({ timeout: 5000 });
    expect(await page.getByRole("alert").textContent()).toMatch(/Line \d+/);
    expect(await page.locator(legWidth).textContent()).toBe("6µm");
    outside("leg width: [6 um", "leg width: 6 um");
    await expect.poll(() => page.getByRole("alert").count(), { timeout: 5000 }).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test("both at once lead to a choice in words, and what is not chosen comes back by undo", async () => {
    const { page } = await open();
    await untilAtRest(page);
    // the watch must not tell before the save is tried
    await page.route("**/changes", (route) => route.abort());
    await server.close();
    const folder = path.replace(/.chip\.yaml$/, "");
    server = await startServer({ folders: [folder], page: builtPage, port: server.port });
    await page.evaluate((token) => sessionStorage.setItem("waferwright token", token), server.token);
    await page.reload();
    await untilAtRest(page);
    outside("length: 800 um", "length: 820 um");
    await page.locator(legWidth).focus();
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Keep what is here" }).waitFor({ timeout: 10_000 });
    expect(onDisk()).toContain("length: 820 um");
    await page.getByRole("button", { name: "Take what is outside" }).click();
    await page.locator('[data-key$="legs.length"]', { hasText: "820" }).waitFor();
    await page.locator("h1").click();
    await page.keyboard.press("Control+z");
    await expect.poll(onDisk).toContain("leg width: 7.0 um");
    await page.close();
  });

  test("a second folder and a new chip are opened from the page", async () => {
    const { page, complaints } = await open();
    await untilAnswered(page);
    await page.getByRole("button", { name: "This folder" }).click();
    const other = mkdtempSync(join(tmpdir(), "waferwright-second-"));
    await page.getByLabel("Folder", { exact: true }).fill(other);
    await page.getByLabel("Name of a new chip").fill("Gripper");
    await page.getByRole("button", { name: "Begin it in that folder" }).click();
    await expect.poll(() => page.locator(".folders li").count(), { timeout: 10_000 }).toBe(2);
    expect(readFileSync(join(other, "chip.yaml"), "utf8")).toContain('chip: "Gripper"');
    await page.getByRole("button", { name: "Leafgate", exact: true }).click();
    await untilAnswered(page);
    expect(complaints).toEqual([]);
    await page.close();
  });
});
