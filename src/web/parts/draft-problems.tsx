/** What is wrong with a text that is being written: the sentence at its line, and all of them below the text. */
import type { TextProblem } from "#base";

/** Where the lines of the text stand, [px]. */
export interface LinePlaces {
  readonly lineHeight: number;
  /** Left end of the free room behind a line (counted from 1). */
  readonly endOf: (line: number) => number;
  /** Top of a line. */
  readonly topOf: (line: number) => number;
  readonly width: number;
  readonly height: number;
}

/** Least room in which a sentence is worth its place, [px]. */
const least = 160;

export function LineNotes({ problems, at }: { readonly problems: readonly TextProblem[]; readonly at: LinePlaces }) {
  const first = new Map<number, string>();
  for (const { place, message } of problems) if (!first.has(place.line)) first.set(place.line, message);
  return (
    <div class="line-notes" aria-hidden="true">
      {[...first].map(([line, message]) => {
        const [left, top] = [at.endOf(line) + 24, at.topOf(line)];
        if (at.width - left < least || top < -at.lineHeight / 2 || top + at.lineHeight / 2 > at.height) return null;
        return (
          <p key={line} style={{ left: `${Math.round(left)}px`, top: `${Math.round(top)}px` }}>
            {message}
          </p>
        );
      })}
    </div>
  );
}

export function DraftProblems({
  problems,
  goTo,
}: {
  readonly problems: readonly TextProblem[];
  readonly goTo: (problem: TextProblem) => void;
}) {
  return (
    <div class="draft-problems" role="status">
      {problems.length === 0 ? null : (
        <ul>
          {problems.map((problem) => (
            <li key={`${problem.place.line}:${problem.place.column} ${problem.message}`}>
              <button type="button" class="link" onClick={() => goTo(problem)}>
                Line {problem.place.line}
              </button>
              : {problem.message}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
