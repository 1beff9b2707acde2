/** The brief: each requirement as sentences that are rewritten in place, what contradicts itself, and a further one. */
import { useSignal } from "@preact/signals";
import { prettyUnits } from "#base";
import type { BriefEntry, BriefWords } from "#workbench";
import { PressedWords } from "../parts/pressed-words.tsx";
import { Problems } from "../parts/problems.tsx";
import { RequirementForm } from "../parts/requirement-form.tsx";
import { editBrief, nForms } from "../state/brief.ts";
import { summary, typedRefusal } from "../state/workbench.ts";

interface LimitProps {
  readonly entry: BriefEntry;
  /** From 1; undefined where the requirement has one limit of its own. */
  readonly number: number | undefined;
  readonly words: BriefWords;
}

function LimitOf({ entry, number, words }: LimitProps) {
  const isOpen = useSignal(false);
  const { name } = entry;
  const at = number === undefined ? {} : { limit: number };
  if (words.of === "no model") return <p>No model proves it{words.need === undefined ? "" : `: ${words.need}`}</p>;
  if (isOpen.value)
    return (
      <RequirementForm
        start={words}
        asksName={false}
        asksWhy={false}
        onKeep={(_, next) => editBrief({ make: "rewrite", name, ...at, words: next })}
        onLeave={() => {
          isOpen.value = false;
          typedRefusal.value = undefined;
        }}
      />
    );
  return (
    <p>
      {words.of}
      {words.where === undefined ? "" : ` of ${words.where}`}
      {words.for === undefined ? "" : ` for ${prettyUnits(words.for)}`}{" "}
      <PressedWords
        class="live drawn as-button"
        label={`limit of ${name}`}
        words={prettyUnits(words.need ?? "")}
        start={words.need ?? ""}
        onKeep={(need) => {
          if (need !== "") void editBrief({ make: "rewrite", name, ...at, words: { need } });
        }}
      />
      {words.at === undefined ? "" : ` at ${words.at}`}
      {words.device === undefined ? "" : `, ${words.device}`}{" "}
      <button
        type="button"
        class="link"
        aria-label={`Rewrite ${words.of} of ${name}`}
        onClick={() => {
          isOpen.value = true;
        }}
      >
        Rewrite
      </button>
      {number === undefined || (entry.limits?.length ?? 0) < 2 ? null : (
        <>
          {" "}
          <button
            type="button"
            class="link"
            aria-label={`Remove limit ${number} of ${name}`}
            onClick={() => void editBrief({ make: "remove", name, limit: number })}
          >
            Remove
          </button>
        </>
      )}
    </p>
  );
}

function Requirement({ entry }: { readonly entry: BriefEntry }) {
  const isAdding = useSignal(false);
  const { name, why } = entry;
  return (
    <li>
      <h2>
        <PressedWords
          class="as-heading"
          label="name"
          words={name}
          start={name}
          onKeep={(to) => void editBrief({ make: "rename", name, to })}
        />
      </h2>
      {entry.limits === undefined ? (
        <LimitOf entry={entry} number={undefined} words={entry} />
      ) : (
        // limits have no names: their place is what they are known by
        entry.limits.map((words, i) => <LimitOf key={`${i} ${words.of}`} entry={entry} number={i + 1} words={words} />)
      )}
      <p class="quiet">
        <PressedWords
          class="as-words"
          label={`reason of ${name}`}
          words={why ?? "Say why"}
          start={why ?? ""}
          onKeep={(next) => void editBrief({ make: "rewrite", name, words: { why: next } })}
        />
      </p>
      {isAdding.value ? (
        <RequirementForm
          start={{}}
          asksName={false}
          asksWhy={false}
          onKeep={(_, words) => editBrief({ make: "add limit", name, words })}
          onLeave={() => {
            isAdding.value = false;
            typedRefusal.value = undefined;
          }}
        />
      ) : (
        <p class="acts">
          <button
            type="button"
            class="link"
            aria-label={`Add a limit to ${name}`}
            onClick={() => {
              isAdding.value = true;
            }}
          >
            Add a limit
          </button>{" "}
          <button
            type="button"
            class="link"
            aria-label={`Remove it: ${name}`}
            onClick={() => void editBrief({ make: "remove", name })}
          >
            Remove it
          </button>
        </p>
      )}
    </li>
  );
}

/** Requirements that cannot all hold, and limits that say nothing. */
function Contradictions() {
  const found = summary.value?.contradictions ?? [];
  if (found.length === 0) return null;
  return (
    <ul class="findings" aria-label="What contradicts itself" role="alert">
      {found.map(({ code, where, message, severity }) => (
        <li key={`${code} ${where} ${message}`} class={severity}>
          {message}
        </li>
      ))}
    </ul>
  );
}

export function BriefView() {
  const isAdding = useSignal(false);
  const brief = summary.value?.brief ?? [];
  return (
    <main class="brief">
      <h1>What {summary.value?.title ?? "the chip"} must do</h1>
      <p class="subtitle">
        {brief.length === 0
          ? "Nothing must hold yet. Say what the chip is for, and every change of the design answers to it."
          : "Press a limit, a name or a reason to write it anew. The rails below answer at once."}
      </p>
      <Problems />
      <Contradictions />
      {typedRefusal.value === undefined || nForms.value > 0 ? null : (
        <p class="refusal" role="alert">
          {typedRefusal.value}
        </p>
      )}
      {isAdding.value ? (
        <RequirementForm
          start={{}}
          asksName={true}
          asksWhy={true}
          onKeep={(name, words) => editBrief({ make: "add", name, words })}
          onLeave={() => {
            isAdding.value = false;
            typedRefusal.value = undefined;
          }}
        />
      ) : (
        <p>
          <button
            type="button"
            class="button"
            onClick={() => {
              isAdding.value = true;
            }}
          >
            Add a requirement
          </button>
        </p>
      )}
      <ul class="requirements">
        {brief.map((entry) => (
          <Requirement key={entry.name} entry={entry} />
        ))}
      </ul>
    </main>
  );
}
