/** The chip as paragraphs whose numbers can be held; below them what drives it and what comes of it. */
import type { Paragraph, ProseWord } from "#chip";
import type { Answer, CaseSummary } from "#workbench";
import { belongsTo, lit } from "../state/lit.ts";
import { answer, caseName, lookAt, refusal, summary } from "../state/workbench.ts";
import { LiveNumber } from "./live-number.tsx";
import { Stepper } from "./stepper.tsx";

function Words({ words }: { readonly words: readonly ProseWord[] }) {
  return (
    <>
      {words.map((word, i) => {
        if (word.kind === "words") return word.text;
        if (word.kind === "handle") return <LiveNumber key={`${word.handle.key} ${i}`} handle={word.handle} />;
        return (
          <span key={`${word.value.name} ${i}`} class="answer" title={`${word.value.name}: ${word.value.from}`}>
            {word.value.text}
          </span>
        );
      })}
    </>
  );
}

/** A predicted number: not a handle; where it does not exist, the reason is read out. */
function Predicted({ of }: { readonly of: Answer }) {
  const [, number, unit] = /^(\S+)\s?(.*)$/.exec(of.text) ?? [];
  if (!Number.isFinite(of.value))
    return (
      <span class="answer absent" title={of.reason}>
        no value
      </span>
    );
  return (
    <span class="answer" title={`${of.word}, predicted as built`}>
      {number}
      {unit === "" ? null : <span class="unit">{unit}</span>}
    </span>
  );
}

function Outcome({ of }: { readonly of: CaseSummary }) {
  const found = answer.value?.answers;
  const [current, power, hottest, travel, stress] = found ?? [];
  if (!current || !power || !hottest || !travel || !stress) return null;
  return (
    <p class="paragraph">
      {of.words.length === 0 ? (
        "Without drive"
      ) : (
        <>
          With <Words words={of.words} />
        </>
      )}{" "}
      it draws <Predicted of={current} /> and turns <Predicted of={power} /> into heat, warms to <Predicted of={hottest} /> and
      moves <Predicted of={travel} />. Its beams bear <Predicted of={stress} />.
    </p>
  );
}

function Cases({ cases }: { readonly cases: readonly CaseSummary[] }) {
  if (cases.length < 2) return null;
  return (
    <fieldset class="choices" aria-label="Operating case in view">
      {cases.map(({ name }) => (
        <button
          key={name}
          type="button"
          aria-pressed={name === caseName.value}
          class="choice"
          onClick={() => lookAt({ caseName: name })}
        >
          {name}
        </button>
      ))}
    </fieldset>
  );
}

const light = (part: string | undefined): void => {
  lit.value = part;
};

/** A paragraph is lit by its part, and by any piece of it. */
const isLit = ({ part }: Paragraph): boolean => part !== undefined && lit.value !== undefined && belongsTo(lit.value, part);

/** Problems of the design, worst first, each with what to do. */
function Findings() {
  const found = answer.value?.findings ?? [];
  if (found.length === 0) return null;
  const rank = { error: 0, warning: 1, note: 2 } as const;
  return (
    <ul class="findings" aria-label="What to look at">
      {[...found]
        .sort((a, b) => rank[a.severity] - rank[b.severity])
        .map(({ code, where, message, severity, source }) => (
          <li key={`${code} ${where}`} class={severity}>
            <strong>{where}</strong> {message}
            {source === undefined ? null : <span class="quiet"> {source}</span>}
          </li>
        ))}
    </ul>
  );
}

export function Prose() {
  const found = summary.value;
  if (found === undefined) return <p class="paragraph quiet">Reading the chip</p>;
  const inView = found.cases.find(({ name }) => name === caseName.value);
  return (
    <>
      <section class="prose" aria-label="The device in words">
        {found.paragraphs.map((paragraph: Paragraph) => (
          <p
            key={`${paragraph.device} ${paragraph.part}`}
            class={`paragraph${isLit(paragraph) ? " lit" : ""}`}
            onPointerEnter={() => light(paragraph.part)}
            onPointerLeave={() => light(undefined)}
            onFocusCapture={() => light(paragraph.part)}
            onBlurCapture={() => light(undefined)}
          >
            <Words words={paragraph.words} />
          </p>
        ))}
        <Findings />
        <p class="evidence-legend" aria-hidden="true">
          <span class="live assumed">assumed</span> <span class="live drawn">drawn</span> <span class="answer">predicted</span>{" "}
          <span class="live measured">measured</span>
        </p>
      </section>
      <section class="outcome" aria-label="What drives it and what comes of it">
        <Cases cases={found.cases} />
        {inView === undefined ? null : <Outcome of={inView} />}
        <Stepper />
        {refusal.value === undefined ? null : (
          <p class="refusal" role="alert">
            {refusal.value}
          </p>
        )}
      </section>
    </>
  );
}
