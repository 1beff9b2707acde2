/**
 * The term over every view: weeks as ticks, stages as stretches on two strands above and below, so that overlaps plait instead of
 * colliding. It is the navigation: pressing a stage shows it, also one whose part of the program does not exist yet.
 */
import { nWeeks, type Stage, show, stages, view } from "../state/stage.ts";

const percent = (week: number): string => `${(100 * week) / nWeeks}%`;

function Stretch({ stage, isAbove }: { readonly stage: Stage; readonly isAbove: boolean }) {
  const inView = view.value === stage.name;
  const [from, to] = stage.weeks;
  return (
    <button
      type="button"
      class={`stage ${isAbove ? "above" : "below"}${inView ? " in-view" : ""}${stage.exists ? "" : " to-come"}`}
      style={{ "--from": percent(from), "--long": percent(to - from) }}
      aria-current={inView ? "page" : undefined}
      title={stage.about}
      onClick={() => show(stage.name)}
    >
      <span>{stage.name}</span>
    </button>
  );
}

export function TermLine() {
  return (
    <nav class="term" aria-label="Stages of the term">
      <div class="strands">
        {stages.map((stage, i) => (
          <Stretch key={stage.name} stage={stage} isAbove={i % 2 === 0} />
        ))}
        <div class="weeks" aria-hidden="true">
          {Array.from({ length: nWeeks }, (_, week) => (
            <span key={week} style={{ left: percent(week + 0.5) }}>
              {week + 1}
            </span>
          ))}
        </div>
      </div>
    </nav>
  );
}
