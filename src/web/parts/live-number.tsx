/**
 * A number of the text that can be held: dragged, stepped by keys, typed over. Its underline says how it is known; its evidence is read
 * out with it. While it is held nothing is written; letting go keeps it, Escape puts it back.
 */
import { useSignal } from "@preact/signals";
import { useRef } from "preact/hooks";
import { type Handle, numberFrom } from "#chip";
import { chosen, heldDigits, hold, keepHeld, letGo, typedRefusal } from "../state/workbench.ts";
import { prettyUnit, stepped } from "./number-text.ts";
import { TypedWords } from "./typed-words.tsx";

/** Way of the pointer for one step, and how far off the line the steps are half as fast, [px]. */
const [perStep, halfAway] = [3, 80];

export function LiveNumber({ handle }: { readonly handle: Handle }) {
  const typing = useSignal<string | undefined>(undefined);
  const drag = useRef<{ x: number; y: number; from: string; way: number; moved: boolean } | undefined>(undefined);
  const inHand = heldDigits(handle.key);
  const digits = inHand ?? handle.digits;
  const unit = prettyUnit(handle.unit);
  // keys may come faster than the page is drawn: they read what is held now from the state
  const move = (steps: number): void =>
    hold({ key: handle.key, digits: stepped(heldDigits(handle.key) ?? handle.digits, { steps, ...handle }) });

  const onPointerDown = (event: PointerEvent): void => {
    if (typing.value !== undefined || event.button !== 0) return;
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    drag.current = { x: event.clientX, y: event.clientY, from: digits, way: 0, moved: false };
  };
  const onPointerMove = (event: PointerEvent): void => {
    const start = drag.current;
    if (start === undefined) return;
    const slow = 1 + Math.abs(event.clientY - start.y) / halfAway;
    start.way += (event.clientX - start.x) / slow;
    start.x = event.clientX;
    const steps = Math.trunc(start.way / perStep);
    if (steps === 0 && !start.moved) return;
    start.moved = true;
    hold({ key: handle.key, digits: stepped(start.from, { steps, ...handle }) });
  };
  const onPointerUp = (): void => {
    const start = drag.current;
    drag.current = undefined;
    if (start?.moved === true) void keepHeld();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const steps = { ArrowRight: 1, ArrowLeft: -1, ArrowUp: 10, ArrowDown: -10 }[event.key];
    if (steps !== undefined) move(steps);
    else if (event.key === "Enter" && heldDigits(handle.key) !== undefined) void keepHeld();
    else if (event.key === "Enter") typing.value = digits;
    else if (event.key === "Escape") letGo();
    else if (/^[\d.]$/.test(event.key) && !event.ctrlKey && !event.metaKey) typing.value = event.key;
    else return;
    event.preventDefault();
  };
  const keepTyped = (written: string | undefined): void => {
    const typed = written?.trim().replace(",", ".");
    typing.value = undefined;
    if (typed === undefined || typed === digits) return;
    if (!/^[-\u2212]?\d+(?:\.\d*)?(?:e-?\d+)?$/i.test(typed)) {
      typedRefusal.value = `Expected a number for ${handle.name}, got "${typed}". Still ${handle.digits} ${unit}.`;
      return;
    }
    hold({ key: handle.key, digits: typed });
    void keepHeld();
  };

  if (typing.value !== undefined)
    return (
      <TypedWords label={handle.name} start={typing.value} room={3} onDone={keepTyped}>
        <span class="unit">{unit}</span>
      </TypedWords>
    );
  return (
    <span
      class={`live ${handle.evidence}${inHand === undefined ? "" : " held"}`}
      role="spinbutton"
      tabIndex={0}
      title={noteOf(handle)}
      aria-label={handle.name}
      aria-valuenow={numberFrom(digits)}
      aria-valuetext={`${digits} ${unit}, ${handle.evidence}${handle.source === undefined ? "" : `, ${handle.source}`}`}
      data-key={handle.key}
      onFocus={() => {
        chosen.value = handle;
      }}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onPointerUp={onPointerUp}
      onPointerCancel={() => {
        drag.current = undefined;
        letGo();
      }}
      onDblClick={() => {
        typing.value = digits;
      }}
      onKeyDown={onKeyDown}
      onBlur={() => {
        if (drag.current === undefined && heldDigits(handle.key) !== undefined) void keepHeld();
      }}
    >
      {digits}
      {unit === "" ? null : <span class={unit === "°" ? "degree" : "unit"}>{unit}</span>}
    </span>
  );
}

function noteOf({ name, evidence, source }: Handle): string {
  return source === undefined ? `${name}: ${evidence}` : `${name}: ${evidence}, ${source}`;
}
