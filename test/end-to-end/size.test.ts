/** Sizing as a user does it: where a design may live, and the design written into the text. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "./run-program.ts";

let folder = "";
const run = (...words: string[]) => runProgram(folder, words);
const textOf = (chip: string): string => readFileSync(join(folder, chip, "chip.yaml"), "utf8");
const plane = ["legs length", "300 um", "800 um", "leg width", "4 um", "10 um"] as const;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "waferwright-size-"));
  for (const chip of ["pair", "other"]) await run("new", chip, "--from", "one-bent-beam");
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("size", () => {
  it("says where the design may live, draws it, and writes its lines", async () => {
    const before = textOf("pair");
    const { code, out, error } = await run("size", "pair", ...plane, "--svg", "region.svg", "--csv", "region.csv");
    expect([code, error]).toEqual([0, ""]);
    const words = out.replace(/\s+/g, " ");
    expect(words).toMatch(/All limits hold on \d+ % of this ground\. It ends at: steady travel at hold, at least 2 um\./);
    expect(words).toMatch(/The text has length of legs 500\.0 µm, leg width 8\.000 µm: all limits hold in \d+ in 100\./);
    expect(words).toMatch(/Best here is length of legs .+, leg width .+, solved in full: \d+ in 100\./);
    expect(words).toMatch(
      /Edges were held to the model at \d+ points; between them they are off by about 0\.\d+ % of the plane\./,
    );
    for (const line of out.split("\n")) expect([...line].length).toBeLessThanOrEqual(112);
    const svg = readFileSync(join(folder, "region.svg"), "utf8");
    expect(svg).toContain("One bent beam: leg width against length of legs");
    expect(svg).toContain(">steady travel at hold, at least 2 um<");
    const [head, ...rows] = readFileSync(join(folder, "region.csv"), "utf8").trim().split("\n");
    expect(head).toContain("length of legs (m)");
    expect(rows.length).toBeGreaterThan(50);
    expect(textOf("pair")).toBe(before);
  }, 120_000);
  it("finds edges on which the program's own prediction meets the limit", async () => {
    const { out } = await run("size", "pair", ...plane, "--json");
    const data = JSON.parse(out) as {
      form: string;
      limits: { label: string; edges: { fence: number; points: number[] }[] }[];
      best: { x: number; y: number; chance: number };
    };
    expect(data.form).toBe("waferwright region");
    const edge = data.limits.find(({ label }) => label.startsWith("steady travel"))!.edges[0]!;
    const k = 2 * Math.floor(edge.points.length / 4);
    const [length, width] = [1e6 * edge.points[k]!, 1e6 * edge.points[k + 1]!];
    const swept = await run(
      ...["sweep", "pair", "leg width", `${width} um`, "10 um", "--steps", "2", "--of", "steady travel", "--at", "hold"],
      ...["--with", `legs length=${length} um`, "--csv", "line.csv"],
    );
    expect(swept.code).toBe(0);
    const first = readFileSync(join(folder, "line.csv"), "utf8").trim().split("\n")[1]!.split(",");
    // the edge is off by 1e-4 of the plane at most, over which the travel changes by about as much
    expect(Math.abs(Number(first[1]) / edge.fence - 1)).toBeLessThan(1e-3);
  }, 120_000);
  it("writes the best design into the text with --best, and typed values with --adopt", async () => {
    const before = textOf("other");
    const { code, out } = await run("size", "other", ...plane, "--best");
    expect(code).toBe(0);
    expect(out).toMatch(/devices\.pusher\.legs\.length: 500 um → \d+(\.\d+)? um/);
    const best = textOf("other");
    expect(best.split("\n").filter((line, k) => line !== before.split("\n")[k])).toHaveLength(2);
    const typed = await run("size", "other", ...plane, "--adopt", "0.62 mm", "7.25 um");
    expect(typed.code).toBe(0);
    expect(textOf("other")).toBe(
      before.replace("length: 500 um", "length: 620 um").replace("leg width: 8 um", "leg width: 7.25 um"),
    );
  }, 120_000);
  it.each([
    [["legs lenght", "300 um", "800 um", "leg width", "4 um", "10 um"], 'Cannot vary "legs lenght": nothing is called'],
    [["legs length", "300 um", "800 K", "leg width", "4 um", "10 um"], "which is another kind of quantity"],
    [["legs length", "300 um", "200 um", "leg width", "4 um", "10 um"], "the second value must be above the first"],
    [[...plane, "--at", "warm"], '"warm" is not an operating case'],
    [[...plane, "--adopt", "1 um"], "Two values are wanted"],
    [[...plane, "--adopt", "1 um", "2 K"], "leg width"],
  ])("refuses %j with a sentence and leaves the text", async (words, sentence) => {
    const before = textOf("pair");
    const { code, error } = await run("size", "pair", ...words);
    expect(code).toBe(2);
    expect(error).toContain(sentence);
    expect(textOf("pair")).toBe(before);
  });
});
