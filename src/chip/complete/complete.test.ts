import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isMap, isScalar, type Pair, parseDocument, type Scalar, visit } from "yaml";
import type { Fields, Shape } from "#base";
import { chipFields } from "../description.ts";
import { completeText } from "./complete.ts";
import { fieldsWithin } from "./spot.ts";

const examples = readdirSync("examples").map((folder) => ({
  folder,
  text: readFileSync(`examples/${folder}/chip.yaml`, "utf8"),
}));

interface Key {
  readonly name: string;
  readonly start: number;
  readonly end: number;
  /** Whether the name is one of a shape, not one that the user chose. */
  readonly isField: boolean;
  readonly shape: Shape | undefined;
}

/** Every name of a text with its shape, found on the whole text: the road that the completion does not take. */
function keysOf(text: string): readonly Key[] {
  const found: Key[] = [];
  const walk = (node: unknown, shape: Shape | undefined): void => {
    if (!isMap(node)) {
      const items = (node as { items?: unknown[] } | null)?.items;
      if (Array.isArray(items)) for (const item of items) walk(item, shape?.kind === "list" ? shape.each : undefined);
      return;
    }
    const pairs = node.items as Pair<Scalar, unknown>[];
    const tag = shape?.kind === "tagged" ? pairs.find(({ key }) => key.value === shape.tag)?.value : undefined;
    const fields: Fields | undefined =
      shape === undefined ? undefined : fieldsWithin(shape, isScalar(tag) ? String(tag.value) : undefined);
    for (const { key, value } of pairs) {
      const name = String(key.value);
      const inner = shape?.kind === "map" ? shape.each : fields?.[name]?.shape;
      found.push({ name, start: key.range![0], end: key.range![1], isField: fields !== undefined, shape: inner });
      walk(value, inner);
    }
  };
  walk(parseDocument(text).contents, { kind: "record", fields: chipFields });
  return found;
}

const offersOf = (text: string, offset = text.length): readonly string[] =>
  completeText(text, offset)?.offers.map((offer) => offer.text) ?? [];

describe("what may be written at a caret", () => {
  for (const { folder, text } of examples) {
    const keys = keysOf(text).filter(({ isField }) => isField);

    test(`${folder}: a text that ends where a field begins is offered that field, with its sentence`, () => {
      expect(keys.length).toBeGreaterThan(20);
      for (const { name, start } of keys) {
        const offer = completeText(text.slice(0, start), start)?.offers.find((found) => found.text === name);
        expect(offer, `${name} at ${start}`).toBeDefined();
        expect(offer!.about.length).toBeGreaterThan(3);
      }
    });

    test(`${folder}: a field written in part is offered, in the middle of the text too`, () => {
      for (const { name, start, end } of keys) {
        // one letter, half of them, all but one
        for (const n of new Set([1, Math.ceil(name.length / 2), name.length - 1])) {
          if (n < 1 || n >= name.length) continue;
          expect(offersOf(text.slice(0, start + n))).toContain(name);
          // the rest of the name and its value still stand behind the caret
          const inside = completeText(text, start + n)!;
          expect(inside.offers.map((offer) => offer.text)).toContain(name);
          expect([inside.from, inside.to]).toEqual([start, end]);
        }
      }
    });

    test(`${folder}: a field taken after the text was cut at it stands as it stood`, () => {
      for (const { name, start, end } of keys) {
        const cut = text.slice(0, start);
        const found = completeText(cut, start)!;
        const { insert } = found.offers.find((offer) => offer.text === name)!;
        const taken = cut.slice(0, found.from) + insert;
        expect(taken.startsWith(text.slice(0, end))).toBe(true);
        expect(taken.slice(end)).toMatch(/^:( |\n +(- )?)$/);
      }
    });

    test(`${folder}: every word of a choice is offered where it stands`, () => {
      const tops = parseDocument(text);
      let nChoices = 0;
      visit(tops, {
        Pair: (_key, { key, value }) => {
          const known = keys.find(({ start }) => isScalar(key) && start === key.range![0]);
          if (known?.shape?.kind !== "choice" || !isScalar(value)) return;
          nChoices++;
          expect(offersOf(text.slice(0, value.range![0]))).toContain(String(value.value));
        },
      });
      expect(nChoices).toBeGreaterThan(0);
    });
  }

  test("any caret in any cut of a text is answered or not, but never with an error, and offers fit what they replace", () => {
    const { text } = examples.find(({ folder }) => folder === "06-bent-beam-gripper")!;
    fc.assert(
      fc.property(
        fc.nat(text.length),
        fc.nat(text.length),
        fc.constantFrom("", "{", "[", '"', "- ", ": ", "\t", "#", "|\n"),
        (a, b, sign) => {
          const [from, to] = [Math.min(a, b), Math.max(a, b)];
          const torn = text.slice(0, from) + sign + text.slice(to);
          const found = completeText(torn, from + sign.length);
          if (found === undefined) return;
          expect(found.from).toBeLessThanOrEqual(from + sign.length);
          expect(found.to).toBeGreaterThanOrEqual(from + sign.length);
        },
      ),
      { numRuns: 300, seed: 7319 },
    );
  });

  const head =
    "chip: x\ndevices:\n  gate:\n    is: composition\n    points:\n      root: { x: 0 um, y: 0 um }\n      tip: { x: 0 um, y: 200 um }\n";

  test("points and parts of a composition are offered where they are named", () => {
    const text = `${head}    parts:\n      base: { is: anchor, at: root, width: 40 um, height: 40 um }\n      arm: { is: beam, from: `;
    expect(offersOf(text)).toEqual(["root", "tip", "base", "arm"]);
    expect(offersOf(`${text}ti`)).toEqual(["tip"]);
    expect(offersOf(`${head}    parts:\n      arm: { is: curved`)).toEqual(["curved beam"]);
  });

  test("metrics, cases, devices, materials and parameters are offered where they are named", () => {
    const rest =
      "drive:\n  cases:\n    hold: { pads: 10 V }\nmaterials:\n  our silicon: { conductivity: 120 W/(m K) }\nparameters:\n  slit pitch: 20 um\n  reach: 3 V\n";
    const at = (line: string): readonly string[] => offersOf(`${head}${rest}${line}`);
    expect(at("brief:\n  - of: steady tr")[0]).toBe("steady travel");
    expect(at("brief:\n  - at: ")).toEqual(["hold"]);
    expect(at("brief:\n  - limits:\n      - device: ")).toEqual(["gate"]);
    expect(at("brief:\n  - where: ")).toEqual(["root", "tip"]);
    expect(at("process:\n  silicon:\n    material: our")).toEqual(["our silicon"]);
    expect(at("process:\n  glass:\n    material: fused")).toEqual(["fused silica"]);
    expect(at("readings:\n  - of: slit")[0]).toBe("slit pitch");
    // of two parameters the one that is a length comes first where a length is wanted
    const width = "devices:\n  other:\n    is: straight bar\n    length: ";
    const offers = offersOf(`${rest}${width}`);
    expect(offers.indexOf("slit pitch")).toBeGreaterThan(-1);
    expect(offers.indexOf("slit pitch")).toBeLessThan(offers.indexOf("reach"));
    expect(offersOf(`${rest}${width}slit pitch / 2 - re`)).toEqual(["reach"]);
  });

  test("behind a number stand units of what is wanted, with a blank before", () => {
    const at = "drive:\n  supply:\n    limit current: 100";
    const { offers } = completeText(at, at.length)!;
    expect(offers[0]).toMatchObject({ text: "mA", insert: " mA" });
    expect(offers.map((offer) => offer.text)).not.toContain("V");
    expect(offersOf(`${at} u`)).toEqual(["uA"]);
    expect(completeText(`${at} mA`, at.length + 3)!.isWhole).toBe(true);
    expect(completeText(`${at} m`, at.length + 2)!.isWhole).toBe(false);
    const doubt = "process:\n  silicon thickness: 40 um ± 1";
    expect(offersOf(doubt)[0]).toBe("um");
    // a parameter may be anything
    expect(offersOf("parameters:\n  hold: 3 ")).toEqual(expect.arrayContaining(["um", "V", "K", "deg"]));
  });

  test("nothing is offered in a remark, in quotes, in a text over several lines, under an unknown name", () => {
    for (const text of ["# ch", "chip: x # ve", 'chip: "Le', "note: |\n  pro", "nothing:\n  pro"])
      expect(completeText(text, text.length), text).toBeUndefined();
    expect(offersOf("note: |\n  words\n  more\npro")).toEqual(["process"]);
    expect(offersOf("")).toContain("chip");
  });

  test("an open bracket above does not silence the sections below", () => {
    expect(offersOf("parameters: { leg width: 6 um\nprocess:\n  fl")).toContain("flow");
  });

  test("an offset outside the text is refused", () => {
    expect(() => completeText("chip: x", 8)).toThrow("wanted an offset from 0 to 7, for example 0; found 8");
  });
});
