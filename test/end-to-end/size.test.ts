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
    expect(words).toMatch(/All limits hold on \d+ % of this ground\. It ends at: steady travel at hold, at least 2 µm\./);
    expect(words).toMatch(/The text has length of legs 500\.0 µm, leg width 8\.000 µm: all limits hold in \d+ in 100\./);
    expect(words).toMatch(/Best here is length of legs .+, leg width .+, solved in full: \d+ in 100\./);
    expect(words).toMatch(
      /Edges were held to the model at \d+ points; between them they are off by about 0\.\d+ % of the plane\./,
    );
    for (const line of out.split("\n")) expect([...line].length).toBeLessThanOrEqual(112);
    const svg = readFileSync(join(folder, "region.svg"), "utf8");
    expect(svg).toContain("One bent beam: leg width against length of legs");
    expect(svg).toContain(">steady travel at hold, at least 2 µm<");
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
  it("tells the chance of the text that it wrote", async () => {
    const { out } = await run("size", "other", ...plane, "--best");
    const best = /Best here is [\s\S]+? in\s+full:\s+(\d+) in 100/.exec(out)![1];
    const written = /The text as it stands now, solved in full: all limits hold in (\d+) in 100\./.exec(out)![1];
    // the text has four digits of each size
    expect(Math.abs(Number(best) - Number(written))).toBeLessThanOrEqual(1);
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

describe("trade", () => {
  it("ranks steps of sizes by the chance after them, with what they give and cost, and limits that ask for less", async () => {
    const { code, out, error } = await run("trade", "pair", "--csv", "sensitivity.csv");
    expect([code, error]).toEqual([0, ""]);
    const words = out.replace(/\s+/g, " ");
    expect(words).toMatch(/All limits hold in \d+ in 100\./);
    const chances = [...words.matchAll(/(\d+) in 100: [a-z ]+ [\d.]+/g)].map((match) => Number(match[1]));
    expect(chances.length).toBeGreaterThan(3);
    expect(chances).toEqual([...chances].sort((a, b) => b - a));
    expect(words).toMatch(/leg width 8\.000 µm → 8\.500 µm\. Gives: steady travel at hold .+ Costs: supply current at hold/);
    expect(words).toMatch(/Or ask for less 95 in 100: travel, steady travel at hold at least 1\.\d+ µm, not 2\.000 µm\./);
    for (const line of out.split("\n")) expect([...line].length).toBeLessThanOrEqual(112);
    const rows = readFileSync(join(folder, "sensitivity.csv"), "utf8").trim().split("\n");
    expect(rows[0]).toContain("steady travel at hold (% per %)");
    expect(rows.some((row) => row.startsWith("tilt of legs,0.0523599,rad,-0."))).toBe(true);
  }, 120_000);
  it.each([
    [["--of", "leg widht"], 'Cannot trade "leg widht": nothing is called "leg widht"; the nearest is "leg width".'],
    [["--count", "many"], 'A whole number from 1 to 100 is wanted, not "many".'],
    [["--at", "warm"], '"warm" is not an operating case'],
  ])("refuses %j with a sentence", async (words, sentence) => {
    const { code, error } = await run("trade", "pair", ...words);
    expect(code).toBe(2);
    expect(error).toContain(sentence);
  });
});

describe("best", () => {
  const vary = ["--vary", "legs length: 300 um to 800 um", "--vary", "leg width: 4 um to 10 um"];
  it("finds the surest design and writes it", async () => {
    await run("new", "third", "--from", "one-bent-beam");
    const { code, out, error } = await run("best", "third", ...vary, "--adopt");
    expect([code, error]).toEqual([0, ""]);
    const words = out.replace(/\s+/g, " ");
    expect(words).toMatch(/leg width .+, solved in full: all limits hold in 9\d in 100\. The text as it stands: 6\d in 100\./);
    expect(words).toMatch(/steady travel at hold, at least 2 µm: 2\.\d standard deviations clear\./);
    expect(words).toMatch(/The text as it stands now, solved in full: all limits hold in 9\d in 100\./);
    const again = await run("best", "third", ...vary);
    // what was written is what would be found
    expect(again.out.replace(/\s+/g, " ")).toMatch(/all limits hold in 9\d in 100\. The text as it stands: 9\d in 100\./);
  }, 120_000);
  it("follows an aim to where a limit stops it, and draws the front of two", async () => {
    const least = await run("best", "pair", ...vary, "--least", "supply power", "--at", "hold");
    expect(least.code).toBe(0);
    expect(least.out).toMatch(/Least supply power: \d+\.\d+ mW\./);
    // the surety asked for is 1.645 standard deviations: 95 in 100
    expect(least.out.replace(/\s+/g, " ")).toMatch(/all limits hold in 9[45] in 100/);
    expect(least.out).toMatch(/steady travel at hold, at least 2 µm: 1\.[67] standard deviations clear/);
    const front = await run(
      ...([
        "best",
        "pair",
        ...vary,
        "--least",
        "supply power",
        "--most",
        "steady travel",
        "--at",
        "hold",
        "--points",
        "4",
      ] as const),
    );
    const rows = [...front.out.replace(/\n +/g, " ").matchAll(/supply power ([\d.]+) mW, steady travel ([\d.]+) µm/g)];
    expect(rows.length).toBeGreaterThanOrEqual(3);
    const [powers, travels] = [rows.map((row) => Number(row[1])), rows.map((row) => Number(row[2]))];
    expect(powers).toEqual([...powers].sort((a, b) => a - b));
    expect(travels).toEqual([...travels].sort((a, b) => a - b));
  }, 120_000);
  it.each([
    [["--vary", "leg width"], '"leg width" is not a range: write a name, a colon and two values'],
    [[], "Say what may vary: at least one quantity with its range."],
    [["--vary", "leg width: 4 um to 10 um", "--surety", "much"], '"much" is not a number: write for example 1.645.'],
    [["--vary", "leg width: 4 um to 10 um", "--points", "1"], 'A whole number from 2 to 50 is wanted, not "1".'],
    [["--vary", "leg width: 4 um to 10 um", "--starts", "0"], 'A whole number from 1 to 100 is wanted, not "0".'],
    [["--vary", "leg width: 4 um to 10 um", "--at", "hold", "--at", "hold"], "There are 2 cases for 0 aims."],
    [
      [..."--vary|leg width: 4 um to 10 um|--least|pad power|--most|steady travel|--least|supply power|--at|hold".split("|")],
      "At most two aims can be followed at once, found 3.",
    ],
    [
      [..."--vary|leg width: 4 um to 10 um|--least|pad power|--most|steady travel|--at|hold|--adopt".split("|")],
      "A front has many designs: follow one aim, or use set.",
    ],
  ])("refuses %j with a sentence", async (words, sentence) => {
    const { code, error } = await run("best", "pair", ...words);
    expect(code).toBe(2);
    expect(error).toContain(sentence);
  });
});
