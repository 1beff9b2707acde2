/**
 * The device at true scale beside the prose: it moves and warms with every number that is held. Wheel, pinch and the keys + and − zoom,
 * dragging moves the window, 0 shows the whole again.
 */
import { useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { Tokens } from "#picture";
import { drawDevice, type Frame, type Span, type Window, wholeOf } from "../draw/draw-device.ts";
import { partAt, partNames } from "../draw/part-at.ts";
import { tableOfView } from "../draw/tables.ts";
import { belongsTo, lit } from "../state/lit.ts";
import { tokensNow } from "../state/mode.ts";
import { answer, caseName, device, exaggeration, lookAt, pictureOfDevice } from "../state/workbench.ts";
import { SaveWords } from "./save-words.tsx";
import { barOf, temperatureText } from "./scale-bar.ts";

const steps = { zoom: 1.25, most: 4000, least: 0.2 };

export function DeviceFrame() {
  const canvas = useRef<HTMLCanvasElement>(null);
  const frame = useSignal<Frame>({ width: 0, height: 0, density: 1 });
  const own = useSignal<Window | undefined>(undefined);
  const shown = useSignal<{ readonly window: Window; readonly span: Span } | undefined>(undefined);
  const drag = useRef<{ x: number; y: number } | undefined>(undefined);

  useEffect(() => {
    const element = canvas.current!;
    const observer = new ResizeObserver(() => {
      const density = globalThis.devicePixelRatio || 1;
      const { clientWidth: width, clientHeight: height } = element;
      element.width = Math.round(width * density);
      element.height = Math.round(height * density);
      frame.value = { width, height, density };
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);

  useSignalEffect(() => {
    const view = answer.value?.view;
    const context = canvas.current?.getContext("2d");
    if (view === undefined || context === null || context === undefined || frame.value.width === 0) return;
    const window = own.value ?? wholeOf(view, frame.value);
    const tokens: Tokens = tokensNow.value;
    const name = lit.value;
    const span = drawDevice(context, view, { frame: frame.value, window, tokens, isLit: (part) => belongsTo(part, name) });
    const before = shown.peek();
    if (before?.span.low !== span.low || before.span.high !== span.high || before.window.zoom !== window.zoom)
      shown.value = { window, span };
  });

  const zoomAt = (factor: number, at: { readonly x: number; readonly y: number }): void => {
    const view = answer.peek()?.view;
    if (view === undefined) return;
    const whole = wholeOf(view, frame.peek());
    const now = own.peek() ?? whole;
    const zoom = Math.min(Math.max(now.zoom * factor, whole.zoom * steps.least), whole.zoom * steps.most);
    const { width, height } = frame.peek();
    const [dx, dy] = [at.x - width / 2, height / 2 - at.y];
    own.value = { zoom, x: now.x + dx / now.zoom - dx / zoom, y: now.y + dy / now.zoom - dy / zoom };
  };
  const middle = () => ({ x: frame.peek().width / 2, y: frame.peek().height / 2 });
  const placeIn = (event: MouseEvent) => {
    const box = canvas.current!.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  /** The next part or the one before, through all of them. */
  const walk = (step: number): void => {
    const view = answer.peek()?.view;
    if (view === undefined) return;
    const names = partNames(view);
    const at = names.indexOf(lit.peek() ?? "");
    lit.value = names[(at + step + names.length + (at < 0 && step < 0 ? 1 : 0)) % names.length];
  };
  const point = (event: PointerEvent): void => {
    const view = answer.peek()?.view;
    if (view === undefined) return;
    const now = own.peek() ?? wholeOf(view, frame.peek());
    const { x, y } = placeIn(event);
    const { width, height } = frame.peek();
    const place = { x: now.x + (x - width / 2) / now.zoom, y: now.y + (height / 2 - y) / now.zoom };
    lit.value = partAt(view, { place, reach: 4 / now.zoom });
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === "+" || event.key === "=") zoomAt(steps.zoom, middle());
    else if (event.key === "-") zoomAt(1 / steps.zoom, middle());
    else if (event.key === "0") own.value = undefined;
    else if (event.key === "ArrowRight" || event.key === "ArrowDown") walk(1);
    else if (event.key === "ArrowLeft" || event.key === "ArrowUp") walk(-1);
    else return;
    event.preventDefault();
  };
  const onPointerMove = (event: PointerEvent): void => {
    const start = drag.current;
    const view = answer.peek()?.view;
    if (start === undefined) point(event);
    if (start === undefined || view === undefined) return;
    const now = own.peek() ?? wholeOf(view, frame.peek());
    own.value = { ...now, x: now.x - (event.clientX - start.x) / now.zoom, y: now.y + (event.clientY - start.y) / now.zoom };
    drag.current = { x: event.clientX, y: event.clientY };
  };

  const found = answer.value;
  const [bar, span] = [shown.value && barOf(shown.value.window.zoom), shown.value?.span];
  const motion = exaggeration.value === 1 ? "true scale" : `true scale, motion drawn ${exaggeration.value} times as large`;
  return (
    <>
      <canvas
        ref={canvas}
        tabIndex={0}
        role="img"
        aria-label={`${device.value} seen from above at ${caseName.value}, ${motion}; the sentences beside it say the same in numbers`}
        onWheel={(event) => {
          event.preventDefault();
          zoomAt(event.deltaY < 0 ? steps.zoom : 1 / steps.zoom, placeIn(event));
        }}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          drag.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerMove={onPointerMove}
        onPointerUp={() => {
          drag.current = undefined;
        }}
        onPointerLeave={() => {
          lit.value = undefined;
        }}
        onBlur={() => {
          lit.value = undefined;
        }}
        onKeyDown={onKeyDown}
      />
      {found !== undefined && found.view === undefined ? <p class="no-state">No state of balance to show in this case.</p> : null}
      <figcaption>
        <span>
          <strong>Plate 1.</strong> {device.value} as built at {caseName.value}, from above, {motion}.
          {lit.value === undefined ? null : (
            <>
              {" "}
              <em class="part-name" role="status">
                {lit.value}
              </em>
            </>
          )}
        </span>
        <fieldset class="exaggeration" aria-label="How large motion is drawn">
          motion
          {[1, 5, 20].map((factor) => (
            <button
              key={factor}
              type="button"
              class="choice"
              aria-pressed={exaggeration.value === factor}
              onClick={() => lookAt({ exaggeration: factor })}
            >
              × {factor}
            </button>
          ))}
        </fieldset>
        {found?.view === undefined ? null : (
          <SaveWords
            name={`${device.value} at ${caseName.value}`}
            what="the picture"
            svg={() => pictureOfDevice(tokensNow.value)}
            csv={() => tableOfView(found.view!)}
          />
        )}
        {bar === undefined ? null : (
          <span class="bar">
            <span class="bar-line" style={{ width: `${bar.pixels}px` }} />
            {bar.text}
          </span>
        )}
        {span === undefined || !(span.high - span.low > 1) ? null : (
          <span class="field">
            {temperatureText(span.low)}
            <span class="field-steps" aria-hidden="true">
              {Array.from({ length: 11 }, (_, i) => (
                <span key={i} style={{ background: `var(--ember-${i})` }} />
              ))}
            </span>
            {temperatureText(span.high)} K
          </span>
        )}
      </figcaption>
    </>
  );
}
