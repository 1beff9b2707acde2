/** The brief: each requirement as a sentence whose limits can be rewritten in place. */
import { useSignal } from "@preact/signals";
import type { Rail } from "#workbench";
import { Problems } from "../parts/problems.tsx";
import { answer, summary, writeValue } from "../state/workbench.ts";

/** The rails name the case with the limit where a row has several; here it stands after it anyway. */
const limitAlone = ({ limit, caseName }: Rail): string =>
  caseName !== undefined && limit.endsWith(`, ${caseName}`) ? limit.slice(0, -caseName.length - 2) : limit;

function NeedOf({ rail }: { readonly rail: Rail }) {
  const typing = useSignal<string | undefined>(undefined);
  if (rail.need === undefined) return <span>{limitAlone(rail)}</span>;
  const { need } = rail;
  const keep = (): void => {
    const next = typing.value;
    typing.value = undefined;
    if (next !== undefined && next.trim() !== "" && next !== need.text) void writeValue(need.path, next.trim());
  };
  if (typing.value === undefined)
    return (
      <button
        type="button"
        class="live drawn as-button"
        onClick={() => {
          typing.value = need.text;
        }}
      >
        {limitAlone(rail)}
      </button>
    );
  return (
    <span class="live typed">
      <input
        aria-label={`limit of ${rail.of}`}
        size={Math.max(12, typing.value.length)}
        value={typing.value}
        ref={(input) => input?.focus()}
        onInput={(event) => {
          typing.value = event.currentTarget.value;
        }}
        onKeyDown={(event) => {
          if (event.key === "Enter") keep();
          else if (event.key === "Escape") typing.value = undefined;
        }}
        onBlur={keep}
      />
    </span>
  );
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
