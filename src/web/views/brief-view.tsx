/** The brief: each requirement as a sentence whose limits can be rewritten in place. */
import { useSignal } from "@preact/signals";
import type { Rail } from "#workbench";
import { Problems } from "../parts/problems.tsx";
import { TypedWords } from "../parts/typed-words.tsx";
import { answer, summary, writeValue } from "../state/workbench.ts";

/** The rails name the case with the limit where a row has several; here it stands after it anyway. */
const limitAlone = ({ limit, caseName }: Rail): string =>
  caseName !== undefined && limit.endsWith(`, ${caseName}`) ? limit.slice(0, -caseName.length - 2) : limit;

function NeedOf({ rail }: { readonly rail: Rail }) {
  const isTyping = useSignal(false);
  if (rail.need === undefined) return <span>{limitAlone(rail)}</span>;
  const { need } = rail;
  const keep = (next: string | undefined): void => {
    isTyping.value = false;
    if (next !== undefined && next.trim() !== "" && next !== need.text) void writeValue(need.path, next.trim());
  };
  if (!isTyping.value)
    return (
      <button
        type="button"
        class="live drawn as-button"
        onClick={() => {
          isTyping.value = true;
        }}
      >
        {limitAlone(rail)}
      </button>
    );
  return <TypedWords label={`limit of ${rail.of}`} start={need.text} room={12} onDone={keep} />;
}

export function BriefView() {
  const rails = answer.value?.rails ?? [];
  const names = [...new Set(rails.map(({ of }) => of))];
  return (
    <main class="brief">
      <h1>What {summary.value?.title ?? "the chip"} must do</h1>
      <p class="subtitle">Press a limit to write it anew. The rails below answer at once.</p>
      <Problems />
      <ul class="requirements">
        {names.map((name) => {
          const own = rails.filter(({ of }) => of === name);
          return (
            <li key={name}>
              <h2>{name}</h2>
              {own.map((rail) => (
                <p key={rail.limitIndex}>
                  {rail.metric === undefined ? "No model proves it" : rail.metric} <NeedOf rail={rail} />
                  {rail.caseName === undefined ? "" : ` at ${rail.caseName}`}
                </p>
              ))}
              {own[0]?.why === undefined ? null : <p class="quiet">{own[0].why}</p>}
            </li>
          );
        })}
      </ul>
    </main>
  );
}
