import { describe, expect, it } from "vitest";
import { parseText } from "./parse.ts";
import { problemsOf, readSample, sampleText } from "./text-sample.ts";

const head = "chip: A\nversion: 1\nprocess: { silicon thickness: 40 um }\n";

describe("reading", () => {
  it("reads the sample in full", () => {
    const { values, problems, quantities } = readSample(sampleText);
    expect(problems).toEqual([]);
    expect(values?.note).toBe("says: nothing, # really");
    expect([...values!.parameters!.keys()]).toEqual(["leg width", "slit pitch", "gap", "share", "Länge"]);
    expect(values?.process["silicon thickness"].phrase).toMatchObject({
      evidence: "measured",
      date: "2026-10-02",
      source: "profilometer, wafer 2",
    });
    expect(values?.process["silicon thickness"].place).toEqual({ file: "chip.yaml", line: 10, column: 24 });
    expect(values?.process.conductivity?.given).toMatchObject({ kind: "formula", range: { from: 250, to: 1000 }, spread: 0.05 });
    expect(values?.points?.map((p) => p.at.text)).toEqual(["1 um", "2 um", "3 um"]);
    expect(values?.devices?.get("blade")?.word).toBe("plate");
    expect(quantities.map((q) => q.path.join("."))).toContain("points.2.at");
  });

  it("reads the same with the line ends of another system, and behind a byte order mark", () => {
    for (const text of [sampleText.replaceAll("\n", "\r\n"), `\ufeff${sampleText}`]) {
      const { values, problems } = readSample(text);
      expect(problems).toEqual([]);
      expect(values?.process["silicon thickness"].place.line).toBe(10);
    }
  });

  it("takes negative temperatures in the range of a law", () => {
    const text = `${head.replace("{ silicon thickness: 40 um }", "")}  silicon thickness: 40 um\n  conductivity: { formula: 2 * T, unit: W/(m K), range: -40 to 125 °C, source: own }\n`;
    expect(readSample(text).values?.process.conductivity?.given).toMatchObject({
      range: { from: expect.closeTo(233.15, 10), to: expect.closeTo(398.15, 10) },
    });
  });
});

describe("content that does not fit is told with its place", () => {
  it.each([
    ["an unknown key", `${head}parametres: { a: 1 }\n`, 4, 1, 'The nearest is "parameters"'],
    [
      "an unknown key inside",
      "chip: A\nversion: 1\nprocess: { silicon thicknes: 40 um, silicon thickness: 40 um }\n",
      3,
      12,
      'The nearest is "silicon thickness"',
    ],
    ["a missing key", "chip: A\nprocess: { silicon thickness: 40 um }\n", 1, 1, 'The chip text lacks "version"'],
    [
      "a missing key inside",
      "chip: A\nversion: 1\nprocess: {}\n",
      3,
      10,
      'process lacks "silicon thickness": a length, for example 40 um ± 1 um',
    ],
    [
      "no unit",
      "chip: A\nversion: 1\nprocess: { silicon thickness: 40 }\n",
      3,
      31,
      "40 has no unit; expected a length, for example 40 um ± 1 um",
    ],
    ["an unknown unit", "chip: A\nversion: 1\nprocess: { silicon thickness: 40 microns }\n", 3, 34, 'the nearest is "um"'],
    ["a decimal comma", 'chip: A\nversion: 1\nprocess: { silicon thickness: "2,5 um" }\n', 3, 32, "write a decimal point, 2.5"],
    ["a list for a block", "chip: A\nversion: 1\nprocess: [1]\n", 3, 10, "expected a block with"],
    [
      "a block for a quantity",
      "chip: A\nversion: 1\nprocess: { silicon thickness: { a: 1 } }\n",
      3,
      31,
      "found a block of names",
    ],
    ["nothing for a quantity", "chip: A\nversion: 1\nprocess:\n  silicon thickness:\n", 4, 21, "found nothing"],
    ["a truth value for a quantity", "chip: A\nversion: 1\nprocess: { silicon thickness: true }\n", 3, 31, "expected a length"],
    ["a wrong choice", `${head}mount: chukc\n`, 4, 8, 'The nearest is "chuck"'],
    ["a wrong word", `${head}gas: helium\n`, 4, 6, "one of the words air, vacuum"],
    [
      "a wrong version",
      "chip: A\nversion: 1.5\nprocess: { silicon thickness: 40 um }\n",
      2,
      10,
      "expected a whole number from 1 to 1",
    ],
    ["a wrong list", `${head}points: { at: 1 um }\n`, 4, 9, "expected a list"],
    ["an entry of a list", `${head}points:\n  - at: 1 um\n  - at: 1 V m x\n`, 6, 15, "Cannot read points.2.at"],
    ["a device without family", `${head}devices: { a: { width: 1 um } }\n`, 4, 15, 'devices.a lacks "is": one of bar, plate'],
    ["an unknown family", `${head}devices: { a: { is: plaet } }\n`, 4, 21, 'The nearest is "plate"'],
    [
      "a field of another family",
      `${head}devices: { a: { is: bar, width: 1 um, side: 1 um } }\n`,
      4,
      39,
      '"side" is not known in devices.a',
    ],
    ["a number as a name", `${head}parameters: { 5: 1 um }\n`, 4, 15, "a name begins with a letter"],
    ["a name with an operator", `${head}parameters: { a - b: 1 um }\n`, 4, 15, "in a sum it would be read otherwise"],
    [
      "a name with a word of phrases",
      `${head}parameters: { gap to plate: 1 um }\n`,
      4,
      15,
      "in a sum it would be read otherwise",
    ],
    [
      "a name that begins with evidence",
      `${head}parameters: { measured width: 1 um }\n`,
      4,
      15,
      "in a sum it would be read otherwise",
    ],
    ["a long name", `${head}parameters: { ${"a".repeat(61)}: 1 um }\n`, 4, 15, "at most 60 letters"],
  ])("%s", (_, text, line, column, clause) => {
    const problems = problemsOf(text);
    expect(problems.length).toBe(1);
    expect(problems[0]).toContain(clause);
    expect(problems[0]).toMatch(new RegExp(`^chip\\.yaml:${line}:${column}: `));
  });

  it("explains a phrase that { } cut, at each of its pieces", () => {
    const problems = problemsOf(
      "chip: A\nversion: 1\nprocess: { silicon thickness: measured 40 um, microscope, die K11, 2026-11-20 }\n",
    );
    expect(problems.length).toBe(3);
    for (const [i, piece] of ["microscope", "die K11", "2026-11-20"].entries()) {
      expect(problems[i]).toContain(`Inside { } a comma ends an entry, so "${piece}" is cut off from "silicon thickness"`);
    }
  });

  it("tells all problems of one text at once", () => {
    expect(problemsOf("chip: A\nversion: 9\nmount: x\nprocess: { silicon thickness: 1 V x }\nfoo: 1\n").length).toBe(4);
  });

  it.each(["__proto__", "constructor", "toString", "hasOwnProperty", "prototype", "valueOf"])(
    "%s is a name like any other",
    (name) => {
      expect(problemsOf(`${head}${name}: 1\n`)[0]).toContain(`"${name}" is not known at the top of a chip text`);
      expect(problemsOf(`${head}mount: ${name}\n`)[0]).toContain("is not known here");
      expect(problemsOf(`${head}devices: { a: { is: ${name} } }\n`)[0]).toContain("is not known here");
      expect(problemsOf(`chip: A\nversion: 1\nprocess: { silicon thickness: 40 um, ${name}: { polluted: 1 } }\n`)[0]).toContain(
        "is not known in process",
      );
      const { values, problems } = readSample(
        `${head}parameters: { ${name}: 1 um }\ndevices: { ${name}: { is: bar, width: ${name} } }\n`,
      );
      if (name === "__proto__") expect(problems.length).toBe(2);
      else expect(values?.parameters?.get(name)?.text).toBe("1 um");
      expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
      expect(Object.getPrototypeOf({})).toBe(Object.prototype);
    },
  );
});

describe("laws in the text", () => {
  const withLaw = (law: string): readonly string[] =>
    problemsOf(`chip: A\nversion: 1\nprocess:\n  silicon thickness: 40 um\n  conductivity: ${law}\n`);
  const formula = (rest: Record<string, string>): string =>
    `{ ${Object.entries({ formula: "2 * T", unit: "W/(m K)", range: "250 K to 1000 K", source: "own", ...rest })
      .map(([key, value]) => `${key}: ${value}`)
      .join(", ")} }`;

  it.each([
    "120 W/(m K) ± 5 %",
    formula({}),
    formula({ spread: "5 %" }),
    "{ temperatures: [300 K, 400 K], values: [120 W/(m K), 90 W/(m K)], source: own }",
  ])("takes %s", (law) => {
    expect(withLaw(law)).toEqual([]);
  });

  it.each([
    [formula({ formula: "3/T" }), '"/T" is read as a unit in its formula'],
    [formula({ formula: "1 + 2e-5 T" }), '"T" is read as a unit in its formula'],
    [formula({ formula: "exp(-(300 K) / T)" }), '"K" is read as a unit in its formula'],
    [formula({ formula: "2 * t" }), 'the formula names "t"; only T'],
    [formula({ formula: "2 *" }), "a value is missing at the end"],
    [formula({ unit: "W/m K" }), "put what stands under the bar in brackets"],
    [formula({ unit: "V" }), 'its unit "V" is a voltage; expected a thermal conductivity'],
    [formula({ range: "1000 K to 250 K" }), "write a lower and an upper temperature"],
    [formula({ range: "300 K" }), "write a lower and an upper temperature"],
    [formula({ spread: "2 * 2 %" }), "write a single number, for example 5 %"],
    ["{ temperatures: [300 K], values: [120 W/(m K)], source: own }", "a table needs the same number of both, at least two"],
    ["{ temperatures: [300 K, 400 K], values: [120 W/(m K)], source: own }", "2 temperatures and 1 values"],
    ["{ formula: 2 * T }", 'lacks "unit"'],
    ["[1, 2]", "expected a thermal conductivity"],
    ["120", "has no unit"],
  ])("refuses %s", (law, clause) => {
    expect(withLaw(law)[0]).toContain(clause);
  });
});

describe("a form that is no chip text is told with its place", () => {
  it.each([
    ["an alias", "a: &x 1\nb: *x\n", /^chip\.yaml:1:\d+: An anchor \(&x\) stands here/],
    ["an alias to nothing", "a: *x\n", /^chip\.yaml:1:\d+: An alias/],
    ["an anchor on a block", "a: &x\n  b: 1\n", /^chip\.yaml:\d:\d+: An anchor/],
    ["an anchor on nothing", "a: &x\nb: 1\n", /^chip\.yaml:1:\d+: An anchor/],
    ["an anchor on a name", "&x a: 1\n", /^chip\.yaml:1:\d+: An anchor/],
    ["an own tag", "a: !own 1\n", /^chip\.yaml:1:\d+: A tag/],
    ["a core tag", "a: !!str 1\n", /^chip\.yaml:1:\d+: A tag/],
    ["a tag on a block", "a: !!map\n  b: 1\n", /^chip\.yaml:\d:\d+: A tag/],
    ["a tag on a name", "!!str a: 1\n", /^chip\.yaml:1:\d+: A tag/],
    ["a tag on the whole", "!!map\na: 1\n", /^chip\.yaml:\d:\d+: A tag/],
    ["a tag on nothing", "a: !!null\nb: 1\n", /^chip\.yaml:1:\d+: A tag/],
    ["a bare tag", "a: ! 5\n", /^chip\.yaml:1:\d+: A tag/],
    ["a tag far before its value", `a: !!str ${" ".repeat(100)}x\n`, /^chip\.yaml:1:\d+: A tag/],
    ["a merge key", "a: 1\n<<: { b: 1 }\n", /^chip\.yaml:2:1: A merge key/],
    ["a name twice", "a: 1\nb: 1\na: 2\n", /^chip\.yaml:3:1: This name stands here a second time/],
    ["__proto__ twice", "__proto__: 1\n__proto__: 2\n", /^chip\.yaml:2:1: This name stands here a second time/],
    ["a tab", "a:\n\tb: 1\n", /^chip\.yaml:2:1: This line is indented with a tab/],
    ["an open bracket", "a: { b: 1\nc: 2\n", /^chip\.yaml:\d:\d+: A closing bracket/],
    ["an open bracket at the end", "a: [1\n", /^chip\.yaml:\d:\d+: A closing bracket/],
    ["an open quote", 'a: "b\n', /^chip\.yaml:\d:\d+: A closing/],
    ["a line off its column", "a:\n   b: 1\n  c: 1\n", /^chip\.yaml:3:\d+: /],
    ["two documents", "a: 1\n---\nb: 1\n", /^chip\.yaml:2:1: A second document/],
    ["a directive", "%YAML 1.1\n---\na: yes\n", /^chip\.yaml:1:1: A directive/],
    ["a list at the top", "- 1\n", /^chip\.yaml:1:1: A chip text is made of named sections/],
    ["a single word", "Leafgate\n", /^chip\.yaml:1:1: A chip text is made of named sections/],
    ["a comment alone", "# nothing\n", /^chip\.yaml:1:1: A chip text is made of named sections/],
    ["nothing", " \n", /^chip\.yaml:1:1: This text is empty/],
    ["a block as a name", "? [a, b]\n: 1\n", /^chip\.yaml:1:\d+: A name must be/],
    ["no name", ": 1\n", /^chip\.yaml:1:1: /],
    ["a merge mark", "a: 1\n<<<<<<< mine\nb: 1\n", /^chip\.yaml:2:1: Two versions of this text were merged/],
    ["a merge mark in the middle", "a: 1\n=======\n", /^chip\.yaml:2:1: Two versions/],
    ["a control character", "a: 1\nb: \u0000\n", /^chip\.yaml:2:4: An invisible control character \(U\+0000\)/],
    ["too long a text", `a: ${"x".repeat(1_000_001)}`, /^chip\.yaml:1:1: This text is 1\.0 million characters long/],
    ["deep brackets", `a: ${"[".repeat(50)}${"]".repeat(50)}\n`, /^chip\.yaml:1:44: Brackets nest deeper than 40/],
    ["brackets behind a sign of two units", `a: 💥${"[".repeat(50)}\n`, /^chip\.yaml:1:46: Brackets nest/],
    ["a deep indent", `a:\n${" ".repeat(130)}b: 1\n`, /^chip\.yaml:2:131: This line is indented by 130 blanks/],
  ])("%s", (_, text, wanted) => {
    expect(problemsOf(text)[0]).toMatch(wanted);
  });

  it.each([10, 100, 1000, 3000, 10_000, 100_000])("%i dashes or question marks in one line", (depth) => {
    for (const sign of ["- ", "? "]) {
      const started = performance.now();
      expect(problemsOf(`a:\n  ${sign.repeat(depth)}x\n`)[0]).toMatch(/^chip\.yaml:\d+:\d+: /);
      // generous: the sentence comes without parsing the nest
      expect(performance.now() - started).toBeLessThan(5000);
    }
  });

  it("sees no tag, anchor or alias in plain words", () => {
    for (const text of [
      "a: wow!\nb: 1\n",
      "a: { b: hello!, c: 1 }\n",
      'a: "!x"\n',
      "a: x & y * z\n",
      "a: |\n  !x &y *z\nb: wow! yes\n",
      "a!: 1\n",
      "- wow!\n".replace("- ", "a: "),
    ]) {
      expect(() => parseText(text, "chip.yaml"), text).not.toThrow();
    }
  });
});
