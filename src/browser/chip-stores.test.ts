/** What every store of chips promises, asked of each: kept in the page, picked as a file, on the disk through handles, behind the server. */
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { newChipText, titleOfChipText } from "#chip";
import { startServer } from "#server";
import type { ChipStore, TextState } from "./chip-store.ts";
import { type DiskFile, type DiskFolder, diskStore } from "./disk-store.ts";
import { fileStore } from "./file-store.ts";
import { memoryStore } from "./memory-store.ts";
import { serverStore } from "./server-store.ts";

const chip = "chip: Plain\r\nversion: 1 # µ ±";
let root: string;
let folder: string;
let path: string;
let ends: (() => Promise<void> | void)[];

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), "waferwright-stores-"));
  folder = join(root, "plain");
  path = join(folder, "chip.yaml");
  mkdirSync(folder);
  writeFileSync(path, chip);
  ends = [() => rmSync(root, { recursive: true, force: true })];
});
afterEach(async () => {
  for (const end of ends.reverse()) await end();
  vi.unstubAllGlobals();
});

const refuse = (name: string): DOMException => new DOMException("Refused.", name);

/** A folder of this disk behind the face that a browser gives it. A browser writes aside and renames on close. */
class FolderOnDisk implements DiskFolder {
  readonly kind = "directory";
  readonly name: string;
  constructor(private readonly path: string) {
    this.name = path.split("/").at(-1)!;
  }
  async isSameEntry(other: DiskFolder): Promise<boolean> {
    return other instanceof FolderOnDisk && other.path === this.path;
  }
  async getFileHandle(name: string, { create = false } = {}): Promise<DiskFile> {
    const full = join(this.path, name);
    if (!existsSync(full) && !create) throw refuse("NotFoundError");
    if (existsSync(full) && !statSync(full).isFile()) throw refuse("TypeMismatchError");
    return {
      getFile: async () => {
        if (!existsSync(full)) throw refuse("NotFoundError");
        return new File([readFileSync(full)], name, { lastModified: statSync(full).mtimeMs });
      },
      createWritable: async () => {
        if (existsSync(full) && (statSync(full).mode & 0o222) === 0) throw refuse("NoModificationAllowedError");
        const part = `${full}.crswap`;
        writeFileSync(part, "");
        return {
          write: async (bytes) => writeFileSync(part, bytes),
          close: async () => renameSync(part, full),
          abort: async () => rmSync(part),
        };
      },
    };
  }
}

interface Made {
  readonly store: ChipStore;
  readonly id: string;
  /** Path to hand to `create`; stores that ask the person take none. */
  readonly other: string;
}

const texts = { newText: newChipText, titleOf: titleOfChipText };

async function onDisk(): Promise<Made> {
  const picks = [folder, join(root, "other")];
  const store = diskStore({ ...texts, lookEvery: 20, pickFolder: async () => new FolderOnDisk(picks.shift() ?? folder) });
  mkdirSync(join(root, "other"));
  return { store, id: (await store.open("")).id, other: "" };
}

async function behindServer(): Promise<Made> {
  const page = join(root, "page");
  mkdirSync(page);
  const server = await startServer({ folders: [folder], page, port: 0 });
  ends.push(() => server.close());
  // a page asks the server that it came from
  vi.stubGlobal(
    "fetch",
    (
      (fetchOfNode) => (asked: string, options?: RequestInit) =>
        fetchOfNode(`http://127.0.0.1:${server.port}${asked}`, options)
    )(fetch),
  );
  const store = serverStore(server.token);
  return { store, id: (await store.list())[0]!.id, other: join(root, "other") };
}

const pickFile = async (): Promise<{ name: string; text: string }> => ({ name: "chip.yaml", text: chip });
const stores: Readonly<Record<string, { make: () => Promise<Made>; isOnDisk: boolean }>> = {
  "kept in the page": {
    make: async () => ({ store: memoryStore(new Map([["Plain", chip]])), id: "Plain", other: "" }),
    isOnDisk: false,
  },
  "picked as a file": {
    make: async () => {
      const store = fileStore({ ...texts, texts: new Map(), pickFile });
      return { store, id: (await store.open("")).id, other: "" };
    },
    isOnDisk: false,
  },
  "on the disk": { make: onDisk, isOnDisk: true },
  "behind the server": { make: behindServer, isOnDisk: true },
};
const onDiskStores = Object.entries(stores).filter(([, { isOnDisk }]) => isOnDisk);

describe.each(Object.entries(stores))("a chip %s", (_, { make }) => {
  it("is listed, and read as it is to the last character, twice the same", async () => {
    const { store, id } = await make();
    expect(await store.list()).toContainEqual(expect.objectContaining({ id, title: "Plain" }));
    const state = await store.read(id);
    expect(state.text).toBe(chip);
    expect(await store.read(id)).toEqual(state);
  });

  it("is saved over the state that a change was made from, any number of times", async () => {
    const { store, id } = await make();
    let { tag } = await store.read(id);
    for (const text of ["chip: A\n", "chip: A\r\n", "", "chip: ± 𝜇\n", chip]) {
      const saved = await store.save(id, { text, tag });
      expect(saved).toEqual({ outcome: "saved", tag: expect.any(String) });
      if (saved.outcome === "saved") tag = saved.tag;
      expect(await store.read(id)).toEqual({ text, tag });
    }
  });

  it("is not saved over another state: what stands there is handed back, and can be saved over knowingly", async () => {
    const { store, id } = await make();
    const { tag } = await store.read(id);
    await store.save(id, { text: "chip: A\n", tag });
    const late = await store.save(id, { text: "chip: B\n", tag });
    expect(late).toEqual({ outcome: "changed elsewhere", ...(await store.read(id)) });
    expect((await store.read(id)).text).toBe("chip: A\n");
    if (late.outcome === "changed elsewhere")
      expect(await store.save(id, { text: "chip: B\n", tag: late.tag })).toMatchObject({ outcome: "saved" });
    expect((await store.read(id)).text).toBe("chip: B\n");
  });

  it("takes one of several saves at once", async () => {
    const { store, id } = await make();
    const { tag } = await store.read(id);
    const saves = await Promise.all(["chip: A\n", "chip: B\n", "chip: C\n"].map((text) => store.save(id, { text, tag })));
    expect(saves.map(({ outcome }) => outcome).sort()).toEqual(["changed elsewhere", "changed elsewhere", "saved"]);
    const { text } = await store.read(id);
    for (const save of saves) if (save.outcome === "changed elsewhere") expect(save.text).toBe(text);
  });

  it("does not hinder a new one beside it", async () => {
    const { store, id, other } = await make();
    const entry = await store.create(other, "Fresh");
    expect(entry.id).not.toBe(id);
    expect((await store.list()).map((each) => each.id).sort()).toEqual([id, entry.id].sort());
    expect((await store.read(id)).text).toBe(chip);
    const { tag } = await store.read(entry.id);
    expect(await store.save(entry.id, { text: "chip: Fresh\n", tag })).toMatchObject({ outcome: "saved" });
    expect((await store.read(id)).text).toBe(chip);
  });

  it("is not found under another name", async () => {
    const { store } = await make();
    await expect(store.read("none")).rejects.toThrow(/^(Cannot|No) /);
    const saved = await store.save("none", { text: "a", tag: "b" }).catch(() => ({ outcome: "failed" }));
    expect(saved.outcome).toBe("failed");
  });
});

describe.each(onDiskStores)("a chip %s", (_, { make }) => {
  it("tells what another program writes until it is told to stop, and does not save over it", async () => {
    const { store, id } = await make();
    const before = await store.read(id);
    const told: TextState[] = [];
    const stop = store.watch(id, (state) => told.push(state));
    await vi.waitFor(() => expect(told.length).toBeGreaterThan(0), 10_000);
    writeFileSync(path, "chip: Outside\n");
    await vi.waitFor(() => expect(told.at(-1)?.text).toBe("chip: Outside\n"), 10_000);
    expect(told.at(-1)).toEqual(await store.read(id));
    expect(await store.save(id, { text: "chip: Mine\n", tag: before.tag })).toEqual({
      outcome: "changed elsewhere",
      ...told.at(-1)!,
    });
    stop();
    const nTold = told.length;
    writeFileSync(path, "chip: Later\n");
    await setTimeout(600);
    expect(told.length).toBe(nTold);
  });

  it("never tells the emptiness between two texts, nor a text half written", async () => {
    const { store, id } = await make();
    const told = new Set<string>();
    ends.push(store.watch(id, ({ text }) => told.add(text)));
    await vi.waitFor(() => expect(told.size).toBe(1), 10_000);
    writeFileSync(path, "");
    await setTimeout(30);
    writeFileSync(path, "chip: Whole\n");
    await vi.waitFor(() => expect(told).toContain("chip: Whole\n"), 10_000);
    expect([...told]).toEqual([chip, "chip: Whole\n"]);
  });

  it("keeps its byte-order mark", async () => {
    writeFileSync(path, `\uFEFF${chip}`);
    const { store, id } = await make();
    const state = await store.read(id);
    expect(state.text).toBe(chip);
    expect(await store.save(id, { text: "chip: A\n", tag: state.tag })).toMatchObject({ outcome: "saved" });
    expect(readFileSync(path, "utf8")).toBe("\uFEFFchip: A\n");
  });

  it("says why it was not saved, and stays as it was", async () => {
    const { store, id } = await make();
    const { tag } = await store.read(id);
    const failures = ["a\uD800b", "\uFEFFchip: A", "#".repeat(1_000_001)];
    for (const text of failures) {
      const saved = await store.save(id, { text, tag });
      expect(saved).toEqual({ outcome: "failed", reason: expect.stringMatching(/^Cannot save .*chip\.yaml/) });
    }
    chmodSync(path, 0o444);
    expect(await store.save(id, { text: "chip: A\n", tag })).toEqual({
      outcome: "failed",
      reason: expect.stringContaining("read-only"),
    });
    chmodSync(path, 0o644);
    expect(readFileSync(path, "utf8")).toBe(chip);
    rmSync(path);
    expect(await store.save(id, { text: "chip: A\n", tag })).toEqual({
      outcome: "failed",
      reason: expect.stringMatching(/^Cannot find chip\.yaml/),
    });
    expect(existsSync(path)).toBe(false);
  });

  it("is not read when its bytes are no UTF-8 or too many", async () => {
    const { store, id } = await make();
    const state = await store.read(id);
    writeFileSync(path, Buffer.from([0x61, 0xff]));
    await expect(store.read(id)).rejects.toThrow("wanted UTF-8");
    expect(await store.save(id, { text: "chip: A\n", tag: state.tag })).toMatchObject({ outcome: "failed" });
    expect([...readFileSync(path)]).toEqual([0x61, 0xff]);
    writeFileSync(path, "#".repeat(1_000_001));
    await expect(store.read(id)).rejects.toThrow("wanted at most 1 MB");
  });

  it("is not begun over one that is there", async () => {
    const { store } = await make();
    mkdirSync(join(root, "other"), { recursive: true });
    writeFileSync(join(root, "other", "chip.yaml"), "chip: Mine\n");
    await expect(store.create(join(root, "other"), "Fresh")).rejects.toThrow(/^Cannot (make|save)/);
    expect(readFileSync(join(root, "other", "chip.yaml"), "utf8")).toBe("chip: Mine\n");
    expect(await store.list()).toHaveLength(1);
  });
});

describe("a folder on the disk", () => {
  it("is known again when it is picked twice, and its chips stand beside those of the page", async () => {
    const besides = fileStore({ ...texts, texts: new Map([["Leafgate", "chip: Leafgate\n"]]), pickFile });
    const store = diskStore({ ...texts, besides, pickFolder: async () => new FolderOnDisk(folder) });
    const first = await store.open("");
    expect((await store.open("")).id).toBe(first.id);
    expect((await store.list()).map(({ title }) => title)).toEqual(["Plain", "Leafgate"]);
    const { tag } = await store.read("Leafgate");
    expect(await store.save("Leafgate", { text: "chip: B\n", tag })).toMatchObject({ outcome: "saved" });
    expect(readFileSync(path, "utf8")).toBe(chip);
  });

  it.each([
    ["AbortError", "No folder was chosen."],
    ["SecurityError", "The browser does not let this page open folders. Start the program and use its page."],
  ])("that is not given (%s) is told in words", async (name, sentence) => {
    const store = diskStore({ ...texts, pickFolder: () => Promise.reject(refuse(name)) });
    await expect(store.open("")).rejects.toThrow(sentence);
    expect(await store.list()).toEqual([]);
  });

  it("is seen to change by an edit that keeps the size", async () => {
    const { store, id } = await onDisk();
    const told: string[] = [];
    ends.push(store.watch(id, ({ text }) => told.push(text)));
    await vi.waitFor(() => expect(told).toEqual([chip]), 10_000);
    writeFileSync(path, chip.replace("Plain", "Plane"));
    utimesSync(path, new Date(), new Date(Date.now() + 5000));
    await vi.waitFor(() => expect(told).toEqual([chip, chip.replace("Plain", "Plane")]), 10_000);
  });
});
