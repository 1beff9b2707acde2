/** The chip as paragraphs whose numbers can be held; below them what drives it and what comes of it. */
import type { Paragraph, ProseWord } from "#chip";
import type { Answer, CaseSummary } from "#workbench";
import { answer, caseName, lookAt, refusal, summary } from "../state/workbench.ts";
import { LiveNumber } from "./live-number.tsx";

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

export function Prose() {
  const found = summary.value;
  if (found === undefined) return <p class="paragraph quiet">Reading the chip</p>;
  const inView = found.cases.find(({ name }) => name === caseName.value);
  return (
    <>
      <section class="prose" aria-label="The device in words">
        {found.paragraphs.map((paragraph: Paragraph) => (
          <p key={`${paragraph.device} ${paragraph.part}`} class="paragraph" data-part={paragraph.part}>
            <Words words={paragraph.words} />
          </p>
        ))}
        <p class="evidence-legend" aria-hidden="true">
          <span class="live assumed">assumed</span> <span class="live drawn">drawn</span> <span class="answer">predicted</span>{" "}
          <span class="live measured">measured</span>
        </p>
      </section>
      <section class="outcome" aria-label="What drives it and what comes of it">
        <Cases cases={found.cases} />
        {inView === undefined ? null : <Outcome of={inView} />}
        {refusal.value === undefined ? null : (
          <p class="refusal" role="alert">
            {refusal.value}
          </p>
        )}
      </section>
    </>
  );
}
