import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { openChip, type Region, type RegionRequest, regionInSteps } from "#chip";
import type { Reply } from "./messages.ts";
import { Session } from "./session.ts";
import type { StudyReply, StudyRequest } from "./study.ts";

const text = readFileSync("examples/01-one-bent-beam/chip.yaml", "utf8");
const about: RegionRequest = {
  x: { name: "legs length", from: "300 um", to: "800 um" },
  y: { name: "leg width", from: "4 um", to: "10 um" },
  side: "built",
  points: 21,
  halvings: 2,
};
const turn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

async function opened(): Promise<Session> {
  const session = new Session(turn);
  await session.answer({ kind: "open", text }, () => undefined);
  return session;
}

/** Asks for a study and hears all that is told. */
async function ask(
  session: Session,
  study: StudyRequest,
  hear: (told: StudyReply) => void = () => undefined,
): Promise<StudyReply> {
  const onTell = (reply: Reply): void => {
    if (reply.kind === "study") hear(reply.study);
  };
  const reply = await session.answer({ kind: "study", study }, onTell);
  if (reply.kind !== "study") throw new Error(`a study expected, got ${JSON.stringify(reply)}`);
  return reply.study;
}

/** The region, with a second session that helps. */
async function regionOfTwo(hear: (told: StudyReply) => void = () => undefined): Promise<StudyReply> {
  const [first, second] = [await opened(), await opened()];
  return ask(first, { kind: "region", about, helpers: 2 }, (told) => {
    hear(told);
    if (told.kind !== "asks help") return;
    void ask(second, { kind: "help", about, question: told.question }).then((helped) => {
      if (helped.kind === "helps") void ask(first, { kind: "helped", number: told.number, answer: helped.answer });
    });
  });
}

async function regionAlone(): Promise<Region> {
  const steps = regionInSteps(openChip(text, { file: "chip.yaml" }), about);
  for (;;) {
    const step = await steps.next();
    if (step.done === true) return step.value;
  }
}

describe("a study beside the pointer", { timeout: 120_000 }, () => {
  test("two workers find the region that one finds, and show better pictures on the way", async () => {
    const pictures: Region[] = [];
    let nHelped = 0;
    const [reply, alone] = await Promise.all([
      regionOfTwo((told) => {
        if (told.kind === "studied" && told.region !== undefined) pictures.push(told.region);
        if (told.kind === "asks help") nHelped++;
      }),
      regionAlone(),
    ]);
    if (reply.kind !== "region") throw new Error(`a region expected, got ${reply.kind}`);
    const { region } = reply;
    expect([...region.free]).toEqual([...alone.free]);
    // designs start from other neighbours, and models stop at 1e-9 or so
    for (const [i, { values }] of region.limits.entries())
      for (const [k, value] of values.entries()) expect(Math.abs(value / alone.limits[i]!.values[k]! - 1)).toBeLessThan(1e-6);
    expect(region.best!.chance).toBeCloseTo(alone.best!.chance, 3);
    expect(nHelped).toBeGreaterThan(region.nDesigns / 4);
    expect(nHelped).toBeLessThan(region.nDesigns);
    expect(pictures.length).toBeGreaterThan(3);
    expect(pictures[0]!.nDesigns).toBe(4);
  });

  test("a newer study, a word, or another text ends the one under way", async () => {
    const session = await opened();
    const first = ask(session, { kind: "region", about, helpers: 0 });
    await turn();
    const second = ask(session, { kind: "trades", side: "built", caseName: undefined });
    expect(await first).toEqual({ kind: "ended" });
    await turn();
    await ask(session, { kind: "end study" });
    expect(await second).toEqual({ kind: "ended" });
    // a helper that never answers does not keep it
    const third = ask(session, { kind: "region", about, helpers: 3 });
    await turn();
    await session.answer({ kind: "open", text }, () => undefined);
    expect(await third).toEqual({ kind: "ended" });
  });

  test("sizes and trades come as data, and another text has other trades", async () => {
    const session = await opened();
    const sizes = await ask(session, { kind: "sizes", side: "built", ranked: true });
    if (sizes.kind !== "sized") throw new Error("sizes expected");
    expect(sizes.choices.slice(0, 3).map(({ name }) => name)).toContain("leg width");
    const chance = async (): Promise<number> => {
      const reply = await ask(session, { kind: "trades", side: "built", caseName: undefined });
      if (reply.kind !== "traded") throw new Error("trades expected");
      return reply.trades.chance;
    };
    const before = await chance();
    await session.answer({ kind: "open", text: text.replace("leg width: 8 um", "leg width: 9 um") }, () => undefined);
    // with wider legs more limits hold: the best design of the region lies there
    expect(await chance()).toBeGreaterThan(before + 0.1);
  });

  test("a range that cannot be used is refused with a sentence", async () => {
    const session = await opened();
    const wrong = { ...about, y: { name: "leg width", from: "4 V", to: "10 V" } };
    const reply = await session.answer({ kind: "study", study: { kind: "region", about: wrong, helpers: 0 } }, () => undefined);
    expect(reply).toMatchObject({ kind: "refused", reason: expect.stringContaining("another kind of quantity") });
  });

  test("texts that differ in given numbers alone are known", async () => {
    const session = await opened();
    const other = text.replace("leg width: 8 um", "leg width: 7.5 um");
    expect(other).not.toBe(text);
    const sameBut = async (after: string, ...keys: string[]) =>
      session.answer({ kind: "same but for", before: text, after, keys }, () => undefined);
    expect(await sameBut(other, "parameters.leg width")).toEqual({ kind: "same but for", same: true });
    expect(await sameBut(other, "process.undercut")).toEqual({ kind: "same but for", same: false });
    expect(await sameBut("nonsense: [", "parameters.leg width")).toEqual({ kind: "same but for", same: false });
  });
});
