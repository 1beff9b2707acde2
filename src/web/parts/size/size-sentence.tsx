/** The two sizes in view in a sentence: their numbers can be held, their names and ranges changed; what it comes to, and the best. */
import { useSignal } from "@preact/signals";
import { prettyUnits } from "#base";
import { groundSentences, inHundred, type Region, type SizeChoice, surenessSentences } from "#chip";
import {
  choiceOf,
  choices,
  digitsFor,
  lookOver,
  presentOf,
  region,
  type StudiedSize,
  type Study,
  study,
} from "../../state/size.ts";
import { hold, keepHeld, summary, typedRefusal } from "../../state/workbench.ts";
import { LiveNumber } from "../live-number.tsx";
import { prettyUnit } from "../number-text.ts";
import { PressedWords } from "../pressed-words.tsx";

/** Names offered at first. */
const nOffered = 12;

interface EndProps {
  readonly label: string;
  readonly words: string;
  readonly onDone: (next: string) => void;
}

/** One end of a range, written in place. */
const End = ({ label, words, onDone }: EndProps) => (
  <PressedWords
    class="live drawn as-button"
    label={label}
    words={prettyUnits(words).replace(/ deg$/, "°")}
    start={words}
    spoken={`${label}, ${words}`}
    room={6}
    onKeep={(next) => {
      if (next !== "") onDone(next);
    }}
  />
);

type AxisName = "x" | "y";

/** What one axis shows: which size, and from where to where. */
function AxisWords({ axis, size, choice, onName }: AxisProps) {
  const change = (next: Partial<StudiedSize>): void => lookOver({ [axis]: { ...size, ...next } });
  return (
    <>
      <button
        type="button"
        class="live drawn as-button pick"
        aria-label={`another size in place of ${choice.name}`}
        onClick={onName}
      >
        {choice.name}
      </button>{" "}
      from <End label={`${choice.name}, from`} words={size.from} onDone={(from) => change({ from })} /> to{" "}
      <End label={`${choice.name}, to`} words={size.to} onDone={(to) => change({ to })} />
    </>
  );
}

interface AxisProps {
  readonly axis: AxisName;
  readonly size: StudiedSize;
  readonly choice: SizeChoice;
  readonly onName: () => void;
}

/** The names that an axis can have: the strongest first. */
function Names({ axis, onDone }: { readonly axis: AxisName; readonly onDone: () => void }) {
  const isWhole = useSignal(false);
  const other = study.value?.[axis === "x" ? "y" : "x"].key;
  const all = choices.value.filter(({ handle }) => handle.key !== other);
  const shown = isWhole.value ? all : all.slice(0, nOffered);
  return (
    <fieldset class="choices names" aria-label="Sizes, those first that the limits feel most">
      {shown.map(({ name, handle, from, to }) => (
        <button
          key={handle.key}
          type="button"
          class="choice"
          aria-pressed={study.value?.[axis].key === handle.key}
          onClick={() => {
            onDone();
            lookOver({ [axis]: { key: handle.key, from, to } });
          }}
        >
          {name}
        </button>
      ))}
      {shown.length === all.length ? null : (
        <button
          type="button"
          class="link"
          onClick={() => {
            isWhole.value = true;
          }}
        >
          and {all.length - shown.length} more
        </button>
      )}
    </fieldset>
  );
}

/** As built or as drawn, and which limits count. */
function About({ now }: { readonly now: Study }) {
  const cases = summary.value?.cases ?? [];
  const sides = [
    ["built", "as built"],
    ["drawn", "as drawn"],
  ] as const;
  return (
    <div class="size-about">
      <fieldset class="choices" aria-label="Side">
        {sides.map(([side, words]) => (
          <button key={side} type="button" class="choice" aria-pressed={now.side === side} onClick={() => lookOver({ side })}>
            {words}
          </button>
        ))}
      </fieldset>
      {cases.length < 2 ? null : (
        <fieldset class="choices" aria-label="Limits that count">
          <button
            type="button"
            class="choice"
            aria-pressed={now.caseName === undefined}
            onClick={() => lookOver({ caseName: undefined })}
          >
            all limits
          </button>
          {cases.map(({ name }) => (
            <button
              key={name}
              type="button"
              class="choice"
              aria-pressed={now.caseName === name}
              onClick={() => lookOver({ caseName: name })}
            >
              those at {name}
            </button>
          ))}
        </fieldset>
      )}
    </div>
  );
}

/** The best design that was found, and the press that takes it. */
function Best({ found, x, y }: { readonly found: Region; readonly x: SizeChoice; readonly y: SizeChoice }) {
  const { best, present } = found;
  if (best === undefined)
    return found.chances.length === 0 ? null : <p class="paragraph">No design here has a chance to keep all limits.</p>;
  const digits = [digitsFor(x, best.x), digitsFor(y, best.y)] as const;
  const isTaken = Number(digits[0]) === numberOf(x) && Number(digits[1]) === numberOf(y);
  return (
    <>
      <p class="paragraph">
        {present === undefined ? null : <>The text's design keeps all limits in {inHundred(present.chance)}. </>}
        Best here is {inHundred(best.chance)}, at {digits[0]}
        <span class="unit">{prettyUnit(x.handle.unit)}</span> by {digits[1]}
        <span class="unit">{prettyUnit(y.handle.unit)}</span>.
      </p>
      <button
        type="button"
        class="button solid"
        disabled={isTaken}
        onClick={() => {
          hold({ key: x.handle.key, digits: digits[0] }, { key: y.handle.key, digits: digits[1] });
          void keepHeld();
        }}
      >
        Adopt the best
      </button>
    </>
  );
}

const numberOf = (choice: SizeChoice): number => Number(digitsFor(choice, presentOf(choice)));

export function SizeSentence() {
  const naming = useSignal<AxisName | undefined>(undefined);
  const now = study.value;
  const [x, y] = [now && choiceOf(now.x), now && choiceOf(now.y)];
  if (now === undefined || x === undefined || y === undefined)
    return <p class="paragraph quiet">Looking for the sizes that matter</p>;
  const found = region.value;
  const toggle = (axis: AxisName): void => {
    naming.value = naming.value === axis ? undefined : axis;
  };
  return (
    <section class="size-sentence" aria-label="The design and where it may live">
      <p class="paragraph">
        The {x.name} is <LiveNumber handle={x.handle} />, the {y.name} <LiveNumber handle={y.handle} />.
        {found === undefined ? "" : ` ${groundSentences(found).join(" ")}`}
      </p>
      {found === undefined ? null : <Best found={found} x={x} y={y} />}
      {typedRefusal.value === undefined ? null : (
        <p class="refusal" role="alert">
          {typedRefusal.value}
        </p>
      )}
      <p class="paragraph small">
        The map shows <AxisWords axis="x" size={now.x} choice={x} onName={() => toggle("x")} />, and{" "}
        <AxisWords axis="y" size={now.y} choice={y} onName={() => toggle("y")} />.
      </p>
      {naming.value === undefined ? null : (
        <Names
          axis={naming.value}
          onDone={() => {
            naming.value = undefined;
          }}
        />
      )}
      <About now={now} />
      {found === undefined || found.chances.length === 0 ? null : <p class="quiet">{surenessSentences(found).join(" ")}</p>}
    </section>
  );
}
