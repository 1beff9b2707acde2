/** The field in which the text of a chip is written: numbers of its lines, what may stand at the caret, what is wrong at its line. */
import { type Signal, useSignal } from "@preact/signals";
import { useLayoutEffect, useRef } from "preact/hooks";
import type { TextProblem } from "#base";
import { CompletionList, completionId, offerId } from "./completion-list.tsx";
import { DraftProblems, LineNotes } from "./draft-problems.tsx";
import { useCompletion } from "./use-completion.ts";
import { useDraftCheck } from "./use-draft-check.ts";

/** As in views.css: height of a line and room round the text, [px]. */
const lineHeight = 22;
const padding = 8;

interface Frame {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

function offsetOf(text: string, { line, column }: TextProblem["place"]): number {
  const before = text.split("\n").slice(0, line - 1);
  return Math.min(text.length, before.reduce((sum, { length }) => sum + length + 1, 0) + column - 1);
}

export function TextEditor({ draft, keep }: { readonly draft: Signal<string>; readonly keep: () => void }) {
  const field = useRef<HTMLTextAreaElement>(null);
  const numbers = useRef<HTMLPreElement>(null);
  const ruler = useRef<HTMLSpanElement>(null);
  const frame = useSignal<Frame>({ left: 0, top: 0, width: 0, height: 0 });
  const letter = useSignal(0);
  const list = useCompletion((text) => {
    draft.value = text;
  });
  const problems = useDraftCheck(draft);
  const measure = (): void => {
    const at = field.current;
    if (at === null || ruler.current === null) return;
    if (numbers.current !== null) numbers.current.scrollTop = at.scrollTop;
    // all letters of the face are of one width
    letter.value = ruler.current.getBoundingClientRect().width / 100;
    frame.value = {
      left: at.offsetLeft - at.scrollLeft,
      top: -at.scrollTop,
      width: at.clientWidth + at.offsetLeft,
      height: at.clientHeight,
    };
  };
  useLayoutEffect(() => {
    measure();
    const watch = new ResizeObserver(measure);
    if (field.current !== null) watch.observe(field.current);
    return () => watch.disconnect();
  }, []);
  const text = draft.value;
  const lines = text.split("\n");
  const wrong = new Set(problems.value.map(({ place }) => place.line));
  const { left, top, width, height } = frame.value;
  const topOf = (line: number): number => padding + (line - 1) * lineHeight + top;
  const endOf = (line: number): number => left + padding + (lines[line - 1]?.length ?? 0) * letter.value;
  const found = list.found.value;
  // a caret that was scrolled out of sight still has its list in sight
  const clampY = (y: number): number => Math.min(Math.max(y, 0), Math.max(0, height - lineHeight));
  const before = text.slice(0, found?.from ?? 0).split("\n");
  const caret = { x: left + padding + before.at(-1)!.length * letter.value, y: clampY(topOf(before.length)), lineHeight, height };
  const goTo = ({ place }: TextProblem): void => {
    const at = field.current;
    if (at === null) return;
    at.focus();
    at.setSelectionRange(offsetOf(text, place), offsetOf(text, place));
    at.scrollTop = Math.max(0, (place.line - 4) * lineHeight);
  };
  return (
    <>
      <div class="editor">
        <pre ref={numbers} class="line-numbers" aria-hidden="true">
          {lines.map((_, i) => (
            <span key={i} class={wrong.has(i + 1) ? "wrong" : undefined}>
              {i + 1}
              {"\n"}
            </span>
          ))}
        </pre>
        <textarea
          ref={field}
          aria-label="Text of the chip"
          aria-autocomplete="list"
          aria-haspopup="listbox"
          aria-controls={found === undefined ? undefined : completionId}
          aria-activedescendant={found !== undefined && list.active.value >= 0 ? offerId(list.active.value) : undefined}
          spellcheck={false}
          autocomplete="off"
          autocapitalize="off"
          value={text}
          onInput={(event) => {
            draft.value = event.currentTarget.value;
            list.ask(event.currentTarget, false);
          }}
          onScroll={measure}
          onBlur={list.close}
          onPointerDown={list.close}
          onKeyDown={(event) => {
            if (event.key === "s" && (event.ctrlKey || event.metaKey)) {
              event.preventDefault();
              keep();
            } else if (list.press(event)) event.preventDefault();
          }}
        />
        <span ref={ruler} class="ruler" aria-hidden="true">
          {"0".repeat(100)}
        </span>
        <LineNotes
          problems={problems.value.filter(({ place }) => found === undefined || place.line !== before.length)}
          at={{ lineHeight, topOf, endOf, width, height }}
        />
        <CompletionList list={list} at={caret} />
        <p class="aside-words" role="status">
          {found === undefined || found.offers.length === 0
            ? ""
            : `${found.offers.length} may stand here, arrows choose: ${found.offers
                .slice(0, 3)
                .map((offer) => offer.text)
                .join(", ")}`}
        </p>
      </div>
      <div class="editor-foot">
        <button
          type="button"
          class="button"
          onPointerDown={(event) => event.preventDefault()}
          onClick={() => {
            if (field.current === null) return;
            field.current.focus();
            list.ask(field.current, true);
          }}
        >
          What may stand here
        </button>
        <span class="quiet keys">Ctrl and the blank key too</span>
        <DraftProblems problems={problems.value} goTo={goTo} />
      </div>
    </>
  );
}
