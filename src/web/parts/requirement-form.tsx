/** Words of a limit being chosen and typed: the metric from the vocabulary, the case, the limit with its unit, the reason. */
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { BriefWords, MetricWord } from "#workbench";
import { fetchVocabulary, nForms, vocabulary } from "../state/brief.ts";
import { summary, typedRefusal } from "../state/workbench.ts";

export interface RequirementFormProps {
  /** What stands there already. A form without a name asks for one. */
  readonly start: BriefWords & { readonly name?: string };
  readonly asksName: boolean;
  /** False where the reason belongs to a requirement that stands already. */
  readonly asksWhy: boolean;
  /** Answers whether it was kept; what was refused stays open. */
  readonly onKeep: (name: string, words: BriefWords) => Promise<boolean>;
  readonly onLeave: () => void;
}

/** Metrics in sight while one is chosen. */
const nInSight = 8;

function Words({
  label,
  value,
  hint,
  onChange,
}: {
  readonly label: string;
  readonly value: string;
  readonly hint?: string;
  readonly onChange: (next: string) => void;
}) {
  return (
    <label class="field">
      <span>{label}</span>
      <input value={value} size={Math.max(24, value.length)} onInput={(event) => onChange(event.currentTarget.value)} />
      {hint === undefined ? null : <span class="quiet">{hint}</span>}
    </label>
  );
}

function Choices({
  label,
  of,
  chosen,
  onChoose,
}: {
  readonly label: string;
  readonly of: readonly string[];
  readonly chosen: string;
  readonly onChoose: (next: string) => void;
}) {
  return (
    <fieldset class="choices">
      <legend class="aside-words">{label}</legend>
      <span>{label}</span>
      {of.map((word) => (
        <button type="button" class="choice" key={word} aria-pressed={word === chosen} onClick={() => onChoose(word)}>
          {word}
        </button>
      ))}
    </fieldset>
  );
}

/** The vocabulary, narrowed by what is typed. */
function MetricChoice({ onChoose }: { readonly onChoose: (metric: MetricWord) => void }) {
  const typed = useSignal("");
  const sought = typed.value.trim().toLowerCase();
  const found = (vocabulary.value ?? []).filter(({ word, about }) => `${word} ${about}`.toLowerCase().includes(sought));
  const ranked = [...found].sort(
    (a, b) => Number(b.word.toLowerCase().includes(sought)) - Number(a.word.toLowerCase().includes(sought)),
  );
  return (
    <div class="metric-choice">
      <Words
        label="It is about"
        value={typed.value}
        hint="type a word, such as travel, current, temperature or resonance"
        onChange={(next) => {
          typed.value = next;
        }}
      />
      <ul>
        {ranked.slice(0, nInSight).map((metric) => (
          <li key={metric.word}>
            <button type="button" class="button" onClick={() => onChoose(metric)}>
              {metric.word}
            </button>{" "}
            <span class="quiet">{metric.about}</span>
          </li>
        ))}
      </ul>
      {found.length > nInSight ? <p class="quiet">and {found.length - nInSight} more: type on</p> : null}
      {vocabulary.value !== undefined && found.length === 0 ? <p class="quiet">No metric has this word.</p> : null}
    </div>
  );
}

export function RequirementForm({ start, asksName, asksWhy, onKeep, onLeave }: RequirementFormProps) {
  const name = useSignal(start.name ?? "");
  const words = useSignal<BriefWords>(start);
  useEffect(() => {
    void fetchVocabulary();
    nForms.value++;
    return () => {
      nForms.value--;
    };
  }, []);
  const set = (next: BriefWords): void => {
    words.value = { ...words.value, ...next };
  };
  const { of = "", need = "", at = "", where = "", for: value = "", device = "", why = "" } = words.value;
  const metric = vocabulary.value?.find(({ word }) => word === of);
  const cases = summary.value?.caseNames ?? [];
  const devices = summary.value?.devices ?? [];
  const keep = async (): Promise<void> => {
    const all: BriefWords = {
      of,
      need: need.trim(),
      at: metric?.hasCase === true ? at : "",
      where: metric?.where === undefined ? "" : where.trim(),
      for: metric?.needs === undefined ? "" : value.trim(),
      ...(devices.length > 1 && { device }),
      ...(asksWhy && { why: why.trim() }),
    };
    if (await onKeep(name.value.trim(), all)) onLeave();
  };
  const choose = (next: MetricWord): void =>
    set({
      of: next.word,
      ...(need === "" && { need: `at least 1 ${next.unit}`.trim() }),
      ...(at === "" && cases[0] !== undefined && { at: cases[0] }),
      ...(device === "" && devices[0] !== undefined && { device: devices[0] }),
    });
  return (
    <form
      class="requirement-form"
      onSubmit={(event) => {
        event.preventDefault();
        void keep();
      }}
      onKeyDown={(event) => {
        if (event.key === "Escape") onLeave();
      }}
    >
      {asksName ? (
        <Words
          label="What the team calls it"
          value={name.value}
          onChange={(next) => {
            name.value = next;
          }}
        />
      ) : null}
      {of === "" ? (
        <MetricChoice onChoose={choose} />
      ) : (
        <p>
          It is about <strong>{of}</strong>.{" "}
          <button type="button" class="link" onClick={() => set({ of: "" })}>
            Another
          </button>
        </p>
      )}
      {metric === undefined ? null : (
        <>
          {devices.length > 1 ? (
            <Choices label="Device" of={devices} chosen={device} onChoose={(next) => set({ device: next })} />
          ) : null}
          {metric.hasCase ? <Choices label="In the case" of={cases} chosen={at} onChoose={(next) => set({ at: next })} /> : null}
          {metric.where === undefined ? null : (
            <Words label={`Name of the ${metric.where}`} value={where} onChange={(next) => set({ where: next })} />
          )}
          {metric.needs === undefined ? null : (
            <Words label={`For ${metric.needs}`} value={value} onChange={(next) => set({ for: next })} />
          )}
          <Words
            label="Limit"
            value={need}
            hint={`at least, at most, between … and …, or a value within a distance${metric.unit === "" ? "" : `; in ${metric.unit} or another unit of its kind`}`}
            onChange={(next) => set({ need: next })}
          />
          {asksWhy ? <Words label="Why" value={why} onChange={(next) => set({ why: next })} /> : null}
          <p>
            <button type="submit" class="button solid" disabled={(asksName && name.value.trim() === "") || need.trim() === ""}>
              Keep it
            </button>{" "}
            <button type="button" class="button" onClick={onLeave}>
              Leave it
            </button>
          </p>
        </>
      )}
      {typedRefusal.value === undefined ? null : (
        <p class="refusal" role="alert">
          {typedRefusal.value}
        </p>
      )}
    </form>
  );
}
