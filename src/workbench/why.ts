/** Why the number of a limit is what it is, as the page shows it. Main test: session.test.ts. */
import { type Chip, explain, explanationWords, numberOfPhrase, requestOf } from "#chip";
import type { WhyWords } from "./messages.ts";

/** Changes that are worked out in full: more would keep the page waiting. */
const nChanges = 4;

/** Four digits, without zeros that say nothing. */
const digitsOf = (value: number): string => String(Number(value.toPrecision(4)));

/** Throws RangeError with a sentence where there is no such number. */
export function whyWords(chip: Chip, at: { readonly requirement: number; readonly limitIndex: number }): WhyWords {
  const limit = chip.requirements[at.requirement]?.limits[at.limitIndex];
  const request = limit === undefined ? undefined : requestOf(chip.side("drawn").scope, limit);
  if (request === undefined)
    throw new RangeError("No model of this program computes this number, so that it has no way to tell.");
  const found = explain(chip, request, { count: nChanges });
  const words = explanationWords(found);
  return {
    ...words,
    changes: words.changes.map((change, i) => ({
      ...change,
      digits: digitsOf(numberOfPhrase(chip, change.key)!.numberFor(found.changes[i]!.to)),
    })),
  };
}
