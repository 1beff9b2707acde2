/** Damaged texts: whatever happens to a valid text, it is read or refused with a place, in time, and nothing outside it changes. */

import { expect, it } from "vitest";
import { createRandomSource, InputError, type RandomSource } from "#base";
import { campaign } from "#campaign";
import { readSample, sampleText } from "./text-sample.ts";

const scraps = [
  ..."&*!|>%@`\"'{}[],:#?-\t\n\r\\<=~",
  ": ",
  "- ",
  "? ",
  "<<: ",
  "*a",
  "&a ",
  "!!str ",
  "---\n",
  "...\n",
  "%YAML 1.1\n",
  "__proto__: ",
  "constructor: ",
  "{{",
  "]]",
  "\u0000",
  "\ufeff",
  "\u2028",
  "\ud800",
  "💥",
  "1e999",
  "((((",
  "^^",
  "±",
  " to ",
  ", ",
  " within ",
  "null",
  "0x1F",
  ".inf",
  "|\n",
  ">-\n",
];

function damage(text: string, random: RandomSource): string {
  let result = text;
  for (let n = 1 + random.whole(5); n > 0; n--) {
    const at = random.whole(result.length + 1);
    const length = 1 + random.whole(random.whole(8) === 0 ? 60 : 4);
    const cut = result.slice(at, at + length);
    const other = random.whole(result.length + 1);
    switch (random.whole(5)) {
      case 0:
        result = result.slice(0, at) + result.slice(at + length);
        break;
      case 1:
        result = result.slice(0, at) + scraps[random.whole(scraps.length)] + result.slice(at);
        break;
      case 2:
        result = result.slice(0, at) + cut.repeat(2 + random.whole(4)) + result.slice(at + length);
        break;
      case 3:
        result = result.slice(0, at) + result.slice(other, other + length) + result.slice(at + length);
        break;
      default:
        result = result.slice(0, at) + String.fromCharCode(random.whole(256)) + result.slice(at + 1);
    }
  }
  return result;
}

const { nCases, seed } = campaign({ name: "damaged chip texts", sample: 400, full: 40_000 });

it("damaged texts are read or refused, never worse", () => {
  const random = createRandomSource(seed);
  const inherited = Object.getOwnPropertyNames(Object.prototype).sort();
  let nRefused = 0;
  let slowest = 0;
  for (let i = 0; i < nCases; i++) {
    const text = damage(sampleText, random);
    const started = performance.now();
    try {
      const { values, problems } = readSample(text);
      if (problems.length > 0) nRefused++;
      expect(values === undefined ? problems.length > 0 : true, text).toBe(true);
      for (const { place, message } of problems) {
        expect(place.line >= 1 && place.column >= 1 && message.length > 20, text).toBe(true);
      }
    } catch (error) {
      if (!(error instanceof InputError))
        throw new Error(`case ${i} of seed ${seed}: ${String(error)}\n${JSON.stringify(text)}`, { cause: error });
      nRefused++;
      expect(error.message, text).toMatch(/^chip\.yaml:\d+:\d+: \S/);
    }
    slowest = Math.max(slowest, performance.now() - started);
  }
  // most damage must show, some may hit a remark
  expect(nRefused).toBeGreaterThan(nCases / 3);
  expect(nRefused).toBeLessThan(nCases);
  expect(slowest).toBeLessThan(200);
  expect(Object.getOwnPropertyNames(Object.prototype).sort()).toEqual(inherited);
});
