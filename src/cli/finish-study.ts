/** Running a study to its end, telling how far it is. */
import type { StudyStep } from "#chip";
import type { Context } from "./context.ts";

export function finishStudy<Result>(steps: Generator<StudyStep, Result, void>, context: Context): Result {
  for (;;) {
    const step = steps.next();
    if (step.done === true) {
      context.clearProgress();
      return step.value;
    }
    context.progress(step.value.done, step.value.total, step.value.what);
  }
}
