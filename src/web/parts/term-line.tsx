/**
 * The term over every view: weeks as ticks, stages as stretches on two strands above and below, so that overlaps plait instead of
 * colliding. It is the navigation: pressing a stage shows it, also one whose part of the program does not exist yet. It is the plan:
 * what is done is solid, what is to come dotted, what runs late runs on past its end, and today is a bead.
 */
import { type Term, type TermStage, usualTerm } from "#chip";
import { type Stage, show, stages, view } from "../state/stage.ts";
import { summary } from "../state/workbench.ts";
import { lengthOf, slipWords, todayOf } from "./term-words.ts";

const percent = (part: number): string => `${(100 * part).toFixed(3)}%`;

interface StretchProps {
  readonly stage: Stage;
  readonly plan: TermStage;
  readonly term: Term;
  readonly today: number | undefined;
  readonly isAbove: boolean;
}

function Stretch({ stage, plan, term, today, isAbove }: StretchProps) {
  const inView = view.value === stage.name;
  const { from, to, solid } = lengthOf(plan, today);
  const slip = slipWords(plan, today);
  return (
    <button
      type="button"
      class={`stage ${isAbove ? "above" : "below"}${inView ? " in-view" : ""}`}
      style={{ "--from": percent(from / term.nWeeks), "--long": percent((to - from) / term.nWeeks) }}
      aria-current={inView ? "page" : undefined}
      title={stage.about}
      onClick={() => show(stage.name)}
    >
      <span class="stage-name">
        {stage.name}
        {slip === undefined ? null : <em class="slip"> {slip}</em>}
      </span>
      <span class="stretch" aria-hidden="true">
        <span class={`solid${plan.isDone ? " done" : ""}`} style={{ width: percent((solid - from) / (to - from)) }} />
        <span class="dots" />
      </span>
    </button>
  );
}

export function TermLine() {
  const term = summary.value?.term ?? usualTerm;
  const today = todayOf(term, new Date());
  return (
    <nav class="term" aria-label="Stages of the term">
      <div class="strands">
        <div class="weeks" aria-hidden="true">
          {Array.from({ length: term.nWeeks }, (_, week) => (
            <span key={week} style={{ left: percent((week + 0.5) / term.nWeeks) }}>
              {week + 1}
            </span>
          ))}
        </div>
        {stages.map((stage, i) => (
          <Stretch
            key={stage.name}
            stage={stage}
            plan={term.stages.find(({ name }) => name === stage.name)!}
            term={term}
            today={today}
            isAbove={i % 2 === 0}
          />
        ))}
        {term.flags.map(({ name, at }) => (
          <span key={name} class="flag" style={{ left: percent(at / term.nWeeks) }}>
            <svg width="12" height="16" aria-hidden="true">
              <path d="M1 16V1H10L7.5 4L10 7H1" class="flag-sign" />
            </svg>
            {name}
          </span>
        ))}
        {today === undefined ? null : (
          <span class="today" style={{ left: percent(today / term.nWeeks) }}>
            <span class="aside-words">today, in week {Math.floor(today) + 1}</span>
          </span>
        )}
      </div>
    </nav>
  );
}
