/** Questions worked out on several lanes at once, answers as they come. Main test: region-steps.test.ts. */
import { Cancelled } from "../predict/estimate.ts";
import type { AskDesign, DesignAnswer, DesignQuestion } from "./design-questions.ts";

/** True once the asker wants no more; an AbortSignal is one. */
export interface StopSignal {
  readonly aborted: boolean;
}

const isAborted = (signal: StopSignal | undefined): boolean => signal?.aborted === true;

/**
 * Answers with the number of their question, in the order in which they arrive; a lane that is free takes the next question. Throws
 * Cancelled between two answers. With one lane the caller has its turn after every question.
 */
export async function* answersOf(
  lanes: readonly AskDesign[],
  questions: readonly DesignQuestion[],
  signal: StopSignal | undefined,
): AsyncGenerator<{ readonly number: number; readonly answer: DesignAnswer }, void, void> {
  const waiting = new Map<number, Promise<{ readonly lane: number; readonly number: number; readonly answer: DesignAnswer }>>();
  let next = 0;
  const fill = (lane: number): void => {
    const number = next++;
    const question = questions[number];
    if (question === undefined) return;
    // in a later turn, so that a lane that answers at once does not keep the others from starting
    waiting.set(
      lane,
      Promise.resolve()
        .then(() => lanes[lane]!(question))
        .then((answer) => ({ lane, number, answer })),
    );
  };
  try {
    if (isAborted(signal)) throw new Cancelled();
    lanes.forEach((_, lane) => void fill(lane));
    while (waiting.size > 0) {
      const { lane, number, answer } = await Promise.race(waiting.values());
      waiting.delete(lane);
      if (isAborted(signal)) throw new Cancelled();
      fill(lane);
      yield { number, answer };
    }
  } finally {
    // whoever leaves early no longer hears of what goes wrong in work under way
    for (const work of waiting.values()) work.catch(() => undefined);
  }
}
