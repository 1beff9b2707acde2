/**
 * The page without a server, opened as a file: a folder of the disk is opened, changed and saved where the browser has folders; else a file is
 * read, and comes back as a copy. The dialog of the browser cannot be pressed by a program, so that its answer stands in: a folder that the
 * browser keeps for the page, whose handles behave alike.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Bench, openBench, root, untilAnswered } from "./page-harness.ts";

const example = readFileSync(join(root, "examples", "01-one-bent-beam", "chip.yaml"), "utf8");
let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
}, 120_000);
afterAll(() => bench.close());

const onDisk = (page: Page, folder: string): Promise<string> =>
  page.evaluate(async (name) => {
    const top = await navigator.storage.getDirectory();
    const file = await (await top.getDirectoryHandle(name)).getFileHandle("chip.yaml");
    return (await file.getFile()).text();
  }, folder);

test("a folder of the disk is opened, a change is saved in it, and a new chip is begun in another", {
  timeout: 180_000,
}, async () => {
  const { page, complaints } = await bench.open({ view: "folder" });
  await untilAnswered(page);
  await page.evaluate(async (text) => {
    const top = await navigator.storage.getDirectory();
    const folder = await top.getDirectoryHandle("pair", { create: true });
    const writable = await (await folder.getFileHandle("chip.yaml", { create: true })).createWritable();
    await writable.write(text);
    await writable.close();
    const answers = [folder, await top.getDirectoryHandle("fresh", { create: true })];
    Object.assign(globalThis, { showDirectoryPicker: async () => answers.shift() });
  }, example);
  await page.getByRole("button", { name: "Open a folder" }).click();
  await page.getByRole("button", { name: "One bent beam" }).waitFor();
  await page.getByRole("button", { name: "brief", exact: true }).click();
  await page.getByRole("button", { name: "limit of travel" }).click();
  await page.getByRole("textbox", { name: "limit of travel" }).fill("at least 3 um");
  await page.keyboard.press("Enter");
  await expect.poll(() => onDisk(page, "pair"), { timeout: 20_000 }).toBe(example.replace("at least 2 um", "at least 3 um"));
  await page.getByRole("button", { name: "This folder" }).click();
  await page.getByLabel("Name of a new chip").fill("Gripper");
  await page.getByRole("button", { name: "Begin it in a folder" }).click();
  await page.getByRole("button", { name: "Gripper" }).waitFor();
  expect(await onDisk(page, "fresh")).toContain('chip: "Gripper"');
  await page.evaluate(async () => {
    const top = await navigator.storage.getDirectory();
    for (const name of ["pair", "fresh"]) await top.removeEntry(name, { recursive: true });
  });
  expect(complaints).toEqual([]);
  await page.close();
});

test("where the browser opens no folders a file is read, changed, and saved as a copy", { timeout: 180_000 }, async () => {
  const { page, complaints } = await bench.open({ view: "folder" });
  await page.addInitScript(() => {
    delete (globalThis as { showDirectoryPicker?: unknown }).showDirectoryPicker;
  });
  await page.reload();
  await untilAnswered(page);
  const chooser = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: "Open a file" }).click();
  await (await chooser).setFiles(join(root, "examples", "01-one-bent-beam", "chip.yaml"));
  await page.getByRole("button", { name: "One bent beam" }).waitFor();
  await page.getByRole("button", { name: "brief", exact: true }).click();
  await page.getByRole("button", { name: "limit of travel" }).click();
  await page.getByRole("textbox", { name: "limit of travel" }).fill("at least 3 um");
  await page.keyboard.press("Enter");
  await page.locator(".news strong").waitFor();
  await page.getByRole("button", { name: "This folder" }).click();
  const download = page.waitForEvent("download");
  await page.getByRole("link", { name: "Save a copy" }).click();
  const saved = await (await download).path();
  expect(readFileSync(saved, "utf8")).toBe(example.replace("at least 2 um", "at least 3 um"));
  expect(complaints).toEqual([]);
  await page.close();
});
