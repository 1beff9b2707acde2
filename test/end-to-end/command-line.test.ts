/** The program as a user runs it: its commands, files and exit codes, from the built bundle. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseGdsii } from "#mask";
import { runProgram } from "./run-program.ts";

let folder = "";
const run = (...words: string[]) => runProgram(folder, words);

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "waferwright-cli-"));
  await run("new", "leaf", "--from", "leafgate");
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("a new chip", () => {
  it("from an example reads well at once", async () => {
    const { code, out } = await run("check", "leaf");
    expect(out).toContain("Leafgate reads well: 1 device, 14 requirements");
    expect(code).toBe(0);
  });
  it("an empty one reads well too, and is never written over another", async () => {
    expect((await run("new", "fresh chip")).code).toBe(0);
    expect((await run("check", "fresh chip")).code).toBe(0);
    const again = await run("new", "fresh chip");
    expect(again.code).toBe(2);
    expect(again.error).toContain("nothing was written");
  });
  it("from an example that does not exist names those that do", async () => {
    const { code, error } = await run("new", "other", "--from", "leafgat");
    expect(code).toBe(2);
    expect(error).toContain("there are one-bent-beam, leafgate, straight-bar");
  });
});

describe("predict", () => {
  it("says what the device does, shows every requirement as a rail, and ends with 1: the measured travel misses its limit", async () => {
    const { code, out } = await run("predict", "leaf");
    expect(out).toContain("Leafgate, shutter, case hold. At 10.20 V");
    for (const name of ["travel", "reserve", "voltage for the stroke", "life"]) expect(out).toContain(name);
    expect(out).toMatch(/Open +travel is 8\.\d+ ± 0\.\d+ µm; it needs 10 µm within 1 µm/);
    expect(out).toMatch(/Measured +travel was 8\.280 ± 0\.060 µm/);
    expect(code).toBe(1);
    for (const line of out.split("\n")) expect([...line].length).toBeLessThanOrEqual(112);
  });
  it("keeps to ASCII when asked", async () => {
    const { out } = await run("--plain", "predict", "leaf");
    expect(out).toMatch(/^[\n\r\x20-\x7e]*$/);
  });
  it("gives data with a form, a version and fields along each beam", async () => {
    const { out } = await run("predict", "leaf", "--json");
    const data = JSON.parse(out) as {
      form: string;
      version: number;
      sides: {
        asBuilt: {
          metrics: { metric: string; value: number; unit: string }[];
          fields: { beams: { temperatures_K: number[] }[] }[];
        };
      };
    };
    expect(data.form).toBe("waferwright prediction");
    expect(data.version).toBe(1);
    const travel = data.sides.asBuilt.metrics.find((metric) => metric.metric === "steady travel");
    expect(travel?.unit).toBe("m");
    expect(travel?.value).toBeCloseTo(8.2e-6, 6);
    expect(data.sides.asBuilt.fields[0]?.beams[0]?.temperatures_K.length).toBeGreaterThan(5);
  });
  it("tries another leg width without touching the text, and a wrong name is told with the nearest", async () => {
    const before = readFileSync(join(folder, "leaf/chip.yaml"), "utf8");
    const wider = await run("predict", "leaf", "--with", "leg width = 7 um");
    expect(wider.out).toContain("µm from rest");
    expect(readFileSync(join(folder, "leaf/chip.yaml"), "utf8")).toBe(before);
    const wrong = await run("predict", "leaf", "--with", "leg widht = 7 um");
    expect(wrong.code).toBe(2);
    expect(wrong.error).toContain('the nearest is "leg width"');
  });
});

describe("set", () => {
  it("changes one value and leaves every other byte", async () => {
    await run("new", "edited", "--from", "one-bent-beam");
    const path = join(folder, "edited/chip.yaml");
    const before = readFileSync(path, "utf8");
    const { out, code } = await run("set", "edited", "leg width", "7.5 um");
    expect(code).toBe(0);
    expect(out).toContain("8 um");
    expect(readFileSync(path, "utf8")).toBe(before.replace("leg width: 8 um", "leg width: 7.5 um"));
  });
  it("refuses a value that the text cannot take, and writes nothing", async () => {
    const path = join(folder, "edited/chip.yaml");
    const before = readFileSync(path, "utf8");
    const { code, error } = await run("set", "edited", "leg width", "7.5 V");
    expect(code).toBe(2);
    expect(error).toContain("expected a length");
    expect(readFileSync(path, "utf8")).toBe(before);
    expect(readdirSync(join(folder, "edited")).filter((name) => name.endsWith(".part"))).toEqual([]);
  });
});

describe("sweep", () => {
  it("goes on past values at which the parts do not fit together, and says why", async () => {
    const { code, out } = await run(
      "sweep",
      "leaf",
      "leg width",
      "5 um",
      "20 um",
      "--steps",
      "4",
      "--of",
      "steady travel",
      "--at",
      "hold",
    );
    expect(code).toBe(0);
    expect(out).toContain("does not exist");
    expect(out).toContain("pitch of the legs must be larger than their width");
  });
  it("writes a table and a plot", async () => {
    const { code } = await run(
      "sweep",
      "leaf",
      "hold pads",
      "2 V",
      "12 V",
      "--steps",
      "6",
      "--of",
      "steady travel",
      "--of",
      "supply current",
      "--csv",
      "iv.csv",
      "--svg",
      "iv.svg",
    );
    expect(code).toBe(0);
    const rows = readFileSync(join(folder, "iv.csv"), "utf8").trim().split("\n");
    expect(rows).toHaveLength(7);
    expect(rows[0]).toContain("steady travel at hold (m)");
    const travels = rows.slice(1).map((row) => Number(row.split(",")[1]));
    expect(travels.every((travel, i) => i === 0 || travel > travels[i - 1]!)).toBe(true);
    expect(readFileSync(join(folder, "iv.svg"), "utf8")).toContain("</svg>");
  });
});

describe("draw and trace", () => {
  it("draws the device warm and moved, in the light asked for, with names of points", async () => {
    const words = [
      "draw",
      "leaf",
      "--at",
      "hold",
      "--exaggerate",
      "10",
      "--points",
      "blade middle",
      "--light",
      "night",
      "-o",
      "hot.svg",
    ];
    const { code, out } = await run(...words);
    expect(code).toBe(0);
    expect(out).toContain("wrote hot.svg");
    const svg = readFileSync(join(folder, "hot.svg"), "utf8");
    expect(svg).toContain(">blade middle<");
    expect(svg).toContain("motion 10 times");
  });
  it("refuses a point that is not there, and a light", async () => {
    const wrong = await run("draw", "leaf", "--points", "blade midle");
    expect(wrong.code).toBe(2);
    expect(wrong.error).toContain('The nearest is "blade middle"');
    expect((await run("draw", "leaf", "--light", "red")).error).toContain("wanted one of paper, night, amber");
  });
  it("follows an exposure into a table and a plot", async () => {
    const { code, out } = await run("trace", "leaf", "--csv", "run.csv", "--svg", "run.svg", "--of", "supply power");
    expect(code).toBe(0);
    expect(out).toMatch(/shutter, exposure: \d+ moments in 315\.4 ms/);
    const rows = readFileSync(join(folder, "run.csv"), "utf8").trim().split("\n");
    expect(rows[0]).toBe(
      "time of exposure (s),current (A),pad voltage (V),supply power (W),supply energy (J),travel (m),mean leg temperature (K)",
    );
    expect(Number(rows[rows.length - 1]!.split(",")[0])).toBeCloseTo(0.31543, 9);
    expect(readFileSync(join(folder, "run.svg"), "utf8")).toContain("supply power of shutter");
  });
  it("takes negative quantities, and writes them as they were typed", async () => {
    await run("new", "pointer", "--from", "strain-pointer");
    const swept = await run("sweep", "pointer", "bond strain", "-100 ppm", "100 ppm", "--steps", "3", "--of", "rest position");
    expect(swept.code).toBe(0);
    expect((await run("set", "pointer", "bond strain", "-20 ppm ± 70 ppm")).code).toBe(0);
    expect(readFileSync(join(folder, "pointer/chip.yaml"), "utf8")).toContain("bond strain: -20 ppm ± 70 ppm");
  });
  it("asks a sweep at a place and for a value, and lists what each metric needs", async () => {
    const words = ["sweep", "leaf", "stem width", "10 um", "30 um", "--steps", "2", "--at", "cold"];
    const { code, out } = await run(...words, "--of", "sag under shock", "--where", "blade", "--for", "500 gn");
    expect(code).toBe(0);
    expect(out).toContain("sag under shock");
    expect(out).not.toContain("does not exist");
    const idle = await run(...words, "--of", "supply current", "--where", "blade");
    expect(idle.code).toBe(2);
    expect(idle.error).toContain("--where blade is of no use here");
    expect((await run("metrics")).out).toMatch(/sag under shock .*\(length; where: a part; for: the acceleration\)/);
  });
});

describe("mask", () => {
  it("writes a stream file and a picture of each plate", async () => {
    const { code, out } = await run("mask", "leaf", "-o", "plates");
    expect(code).toBe(0);
    expect(out).toContain("reads back the same");
    expect(readdirSync(join(folder, "plates")).sort()).toEqual([
      "leafgate-metal.svg",
      "leafgate-recess.svg",
      "leafgate-silicon.svg",
      "leafgate.gds",
    ]);
    const { library } = parseGdsii(readFileSync(join(folder, "plates/leafgate.gds")));
    expect(library.cells[0]?.shapes.map((shape) => shape.layer).sort((a, b) => a - b)).toEqual([1, 2, 4, 10]);
  });
});

describe("what goes wrong ends in a sentence", () => {
  it("a folder without a text", async () => {
    const { code, error } = await run("check", "nowhere");
    expect(code).toBe(2);
    expect(error).toContain("Cannot find this folder");
  });
  it("a broken text is told with file, line and column, all problems at once", async () => {
    await run("new", "broken", "--from", "one-bent-beam");
    const path = join(folder, "broken/chip.yaml");
    writeFileSync(path, readFileSync(path, "utf8").replace("pads: 5 V", "pads: 5 um").replace("gas: air", "gas: aire"));
    const { code, error } = await run("check", "broken");
    expect(code).toBe(2);
    expect(error).toMatch(/chip\.yaml:\d+:\d+: Cannot read surroundings\.gas: "aire" is not known here\. The nearest is "air"/);
  });
  it("an unknown command suggests the one that was meant", async () => {
    const { code, error } = await run("predikt", "leaf");
    expect(code).toBe(2);
    expect(error).toContain("Did you mean predict?");
  });
  it("every command has help with an example", async () => {
    const commands = [
      "new",
      "check",
      "predict",
      "ledger",
      "sweep",
      "trace",
      "size",
      "trade",
      "best",
      "draw",
      "metrics",
      "mask",
      "set",
      "schema",
    ];
    for (const command of commands) {
      const { out, code } = await run(command, "--help");
      expect(code).toBe(0);
      expect(out).toMatch(/Examples?:\n {2}waferwright /);
    }
  });
});

it("the JSON Schema knows the sections and the families", async () => {
  const { out } = await run("schema");
  const schema = JSON.parse(out) as { properties: Record<string, unknown> };
  expect(Object.keys(schema.properties)).toEqual([
    "chip",
    "version",
    "note",
    "brief",
    "surroundings",
    "materials",
    "process",
    "parameters",
    "devices",
    "die",
    "drive",
    "readings",
    "term",
  ]);
  expect(out).toContain("bent-beam bank");
});
