import { readFileSync } from "node:fs";
import { beforeEach, describe, expect, test } from "vitest";
import type { Reply } from "./messages.ts";
import { Session } from "./session.ts";

const text = readFileSync("examples/01-one-bent-beam/chip.yaml", "utf8");
const noTell = (): void => {};

describe("the conversation of a page with its worker", { timeout: 120_000 }, () => {
  let session: Session;
  beforeEach(() => {
    session = new Session(() => Promise.resolve());
  });
  const open = async (): Promise<Extract<Reply, { kind: "opened" }>> => {
    const reply = await session.answer({ kind: "open", text }, noTell);
    if (reply.kind !== "opened") throw new Error(`opened expected, got ${reply.kind}`);
    return reply;
  };

  test("a text that reads well is summed up; one that does not is told with its lines, and the chip of before stays", async () => {
    const { opened } = await open();
    if (opened.kind !== "open") throw new Error("a summary expected");
    const broken = await session.answer({ kind: "open", text: text.replace("version: 1", "version: 99") }, noTell);
    expect(broken).toMatchObject({ kind: "opened", opened: { kind: "problems" } });
    const question = { held: [], device: opened.summary.devices[0]!, caseName: opened.summary.cases[0]!.name, exaggeration: 1 };
    expect(await session.answer({ kind: "frame", question }, noTell)).toMatchObject({ kind: "found", found: { kind: "answer" } });
  });

  test("a draft is read and completed without being kept", async () => {
    await open();
    const draft = `${text}\nterm:\n  beg`;
    const completed = await session.answer({ kind: "complete", text: draft, offset: draft.length }, noTell);
    expect(completed).toMatchObject({ kind: "completed", completion: { offers: [{ text: "begins", insert: "begins: " }] } });
    const wrong = await session.answer({ kind: "check", text: text.replace("version: 1", "version: 99") }, noTell);
    if (wrong.kind !== "checked") throw new Error(`checked expected, got ${wrong.kind}`);
    expect(wrong.problems.map(({ place }) => place.line)).toEqual([2]);
    expect(await session.answer({ kind: "check", text }, noTell)).toEqual({ kind: "checked", problems: [] });
    // what is written next goes into the text that was opened
    const reply = await session.answer({ kind: "write value", path: ["chip"], value: "Other" }, noTell);
    expect(reply).toMatchObject({ kind: "written", text: text.replace(/^chip: .*$/m, "chip: Other") });
  });

  test("a number is written into the text and nothing else changes", async () => {
    const { opened } = await open();
    if (opened.kind !== "open") throw new Error("a summary expected");
    const word = opened.summary.paragraphs
      .flatMap(({ words }) => words)
      .find((found) => found.kind === "handle" && !found.handle.whole);
    if (word?.kind !== "handle") throw new Error("a number expected");
    const { handle } = word;
    const digits = String(Number(handle.digits) * 1.1);
    const reply = await session.answer({ kind: "write", held: [{ key: handle.key, digits }] }, noTell);
    if (reply.kind !== "written") throw new Error(`written expected, got ${reply.kind}`);
    const [before, after] = [text.split("\n"), reply.text.split("\n")];
    expect(after.length).toBe(before.length);
    expect(after.filter((line, i) => line !== before[i])).toHaveLength(1);
    expect(reply.sentence).toContain(digits);
  });

  test("several numbers are written as one change, each in its place", async () => {
    await open();
    const held = [
      { key: "devices.pusher.legs.length", digits: "412" },
      { key: "devices.pusher.legs.tilt", digits: "3.5" },
    ];
    const reply = await session.answer({ kind: "write", held }, noTell);
    if (reply.kind !== "written") throw new Error(`written expected, got ${reply.kind}`);
    expect(reply.sentence).toMatch(/legs length .* → 412 um, .*tilt .* → 3\.5 deg/);
  });

  test("what would break the text is refused with the reason, and nothing is written", async () => {
    await open();
    const reply = await session.answer({ kind: "write value", path: ["version"], value: "99" }, noTell);
    expect(reply.kind).toBe("refused");
  });

  test("an entry is added, renamed and removed, each told in a sentence; what would break the chip is refused", async () => {
    await open();
    const added = await session.answer({ kind: "add entry", path: ["parameters"], key: "gap", value: "4 um" }, noTell);
    if (added.kind !== "written") throw new Error(`written expected, got ${added.kind}`);
    expect(added).toMatchObject({
      sentence: "gap added",
      text: text.replace("leg width: 8 um\n", "leg width: 8 um\n  gap: 4 um\n"),
    });
    await session.answer({ kind: "open", text: added.text }, noTell);
    const renamed = await session.answer({ kind: "rename entry", path: ["parameters", "gap"], name: "slot" }, noTell);
    expect(renamed).toMatchObject({ kind: "written", text: added.text.replace("gap: 4 um", "slot: 4 um") });
    const removed = await session.answer({ kind: "remove entry", path: ["parameters", "gap"] }, noTell);
    expect(removed).toMatchObject({ kind: "written", sentence: "gap removed", text });
    const refused = await session.answer({ kind: "remove entry", path: ["parameters", "leg width"] }, noTell);
    expect(refused).toMatchObject({ kind: "refused", reason: expect.stringContaining("leg width") });
  });

  test("the brief is edited, and what contradicts itself comes with the opened text", async () => {
    await open();
    const words = { need: "at most 1 um", of: "steady travel", at: "hold" };
    const added = await session.answer({ kind: "edit brief", edit: { make: "add", name: "short", words } }, noTell);
    if (added.kind !== "written") throw new Error(`written expected, got ${added.kind}`);
    expect(added.sentence).toBe('requirement "short" added');
    const { opened } = (await session.answer({ kind: "open", text: added.text }, noTell)) as Extract<Reply, { kind: "opened" }>;
    expect(opened).toMatchObject({ summary: { contradictions: [{ code: "limits-exclude-each-other" }] } });
    const bad = { make: "add", name: "x", words: { ...words, of: "nothing" } } as const;
    expect(await session.answer({ kind: "edit brief", edit: bad }, noTell)).toMatchObject({ kind: "refused" });
  });

  test("why a number is what it is comes in words, and a change of it can be written", async () => {
    const { opened } = await open();
    if (opened.kind !== "open") throw new Error("a summary expected");
    const short = text.replace("need: at least 2 um", "need: at least 6 um");
    await session.answer({ kind: "open", text: short }, noTell);
    const question = { held: [], device: "pusher", caseName: "hold", exaggeration: 1 };
    const reply = await session.answer({ kind: "why", question, requirement: 0, limitIndex: 0 }, noTell);
    if (reply.kind !== "explained") throw new Error(`explained expected, got ${reply.kind}`);
    expect(reply.words.subject).toBe("steady travel at hold");
    expect(reply.words.hops.at(0)).toMatchObject({ word: "pad voltage", drawn: "5.000 V", built: "5.000 V" });
    expect(reply.words.limits).toEqual(["travel: at least 6 µm, does not hold as built"]);
    expect(reply.words.aim).toBe("6.000 µm");
    const { key, digits } = reply.words.changes[0]!;
    const written = await session.answer({ kind: "write", held: [{ key, digits }] }, noTell);
    if (written.kind !== "written") throw new Error(`written expected, got ${written.kind}`);
    await session.answer({ kind: "open", text: written.text }, noTell);
    const again = await session.answer({ kind: "why", question, requirement: 0, limitIndex: 0 }, noTell);
    if (again.kind !== "explained") throw new Error(`explained expected, got ${again.kind}`);
    expect(Number.parseFloat(again.words.hops.at(-1)!.built)).toBeCloseTo(6, 2);
    expect(await session.answer({ kind: "why", question, requirement: 9, limitIndex: 0 }, noTell)).toMatchObject({
      kind: "refused",
    });
  });

  test("a later question that newer numbers overtake stops; one beside it does not stop it", async () => {
    const { opened } = await open();
    if (opened.kind !== "open") throw new Error("a summary expected");
    const question = { held: [], device: opened.summary.devices[0]!, caseName: opened.summary.cases[0]!.name, exaggeration: 1 };
    const slow = session.answer({ kind: "later", question }, noTell);
    await session.answer({ kind: "frame", question }, noTell);
    expect((await slow).kind).toBe("overtaken");
    const whole = session.answer({ kind: "later", question }, noTell);
    await session.answer({ kind: "compare", before: "", after: "" }, noTell);
    expect((await whole).kind).toBe("found");
  });
});
