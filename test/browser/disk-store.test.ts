/** The disk store on the handles of a real browser, in the folders that it keeps for the page: those need no dialog, and behave alike. */
import { join } from "node:path";
import { build } from "esbuild";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { ChipStore, SaveOutcome } from "../../src/browser/chip-store.ts";
import type { DiskFolder, DiskOptions } from "../../src/browser/disk-store.ts";
import { type Bench, openBench, root } from "./page-harness.ts";

/** What the bundle leaves on the page. */
interface Stores {
  diskStore(options: DiskOptions): ChipStore;
}

let bench: Bench;
let script: string;
beforeAll(async () => {
  const entryPoints = [join(root, "src", "browser", "disk-store.ts")];
  const result = await build({ entryPoints, bundle: true, write: false, format: "iife", globalName: "stores", target: "es2022" });
  script = result.outputFiles[0]!.text.replace("var stores", "globalThis.stores");
  bench = await openBench();
}, 120_000);
afterAll(() => bench.close());

test("a chip is begun, saved, changed from outside and told, and not written over", { timeout: 120_000 }, async () => {
  const { page } = await bench.open();
  await page.evaluate(script);
  const found = await page.evaluate(async () => {
    const { stores } = globalThis as unknown as { stores: Stores };
    const top = await navigator.storage.getDirectory();
    // the handle of the browser is what the store asks for: the compiler holds this
    const folder: DiskFolder = await top.getDirectoryHandle("chip", { create: true });
    const store = stores.diskStore({
      pickFolder: async () => folder,
      newText: (name) => `chip: ${name}\n`,
      titleOf: (text) => /^chip: (.*)$/m.exec(text)?.[1],
      lookEvery: 20,
    });
    const onDisk = async (): Promise<string> => (await (await folder.getFileHandle("chip.yaml")).getFile()).text();
    const outcomes: (string | SaveOutcome)[] = [];
    const missing = await store.open("").catch((error: Error) => error.message);
    outcomes.push(typeof missing === "string" ? missing : "opened");
    const { id, title } = await store.create("", "Gripper");
    const again = await store.create("", "Gripper").catch((error: Error) => error.message);
    outcomes.push(title, typeof again === "string" ? again : "made again");
    const { tag } = await store.read(id);
    outcomes.push((await store.save(id, { text: "chip: Saved ± µ\r\n", tag })).outcome, await onDisk());
    const told = new Promise<string>((resolve) => {
      const stop = store.watch(id, ({ text }) => {
        if (!text.includes("Outside")) return;
        stop();
        resolve(text);
      });
    });
    const writable = await (await folder.getFileHandle("chip.yaml")).createWritable();
    await writable.write(new TextEncoder().encode("chip: Outside\n"));
    await writable.close();
    outcomes.push(await told, (await store.save(id, { text: "chip: Mine\n", tag })).outcome, await onDisk());
    await top.removeEntry("chip", { recursive: true });
    const gone = await store.save(id, { text: "chip: Mine\n", tag });
    outcomes.push(gone.outcome === "failed" ? gone.reason : gone.outcome);
    return outcomes;
  });
  expect(found).toEqual([
    "Cannot find chip.yaml in this folder: it was moved, renamed or deleted.",
    "Gripper",
    "Cannot make a new chip here: the folder chip holds a chip.yaml already.",
    "saved",
    "chip: Saved ± µ\r\n",
    "chip: Outside\n",
    "changed elsewhere",
    "chip: Outside\n",
    "Cannot find chip.yaml in this folder: it was moved, renamed or deleted.",
  ]);
  await page.close();
});
