/**
 * The device at true scale beside the prose: it moves and warms with every number that is held. Wheel, pinch and the keys + and − zoom,
 * dragging moves the window, 0 shows the whole again.
 */
import { useComputed, useSignal, useSignalEffect } from "@preact/signals";
import { useRef } from "preact/hooks";
import type { DeviceView } from "#devices";
import type { Tokens } from "#picture";
import { drawDevice, type Frame, type Span, type Window, wholeOf } from "../draw/draw-device.ts";
import { partAt, partNames } from "../draw/part-at.ts";
import { tableOfView } from "../draw/tables.ts";
import { belongsTo, lit } from "../state/lit.ts";
import { tokensNow } from "../state/mode.ts";
import { answer, caseName, device, exaggeration, lookAt, pictureOfDevice } from "../state/workbench.ts";
import { SaveWords } from "./save-words.tsx";
import { barOf, temperatureText } from "./scale-bar.ts";
import { useSize } from "./use-size.ts";

const steps = { zoom: 1.25, most: 4000, least: 0.2 };

/** Gives a canvas the pixels of its frame. A canvas that is told its size is cleared, and costs memory anew: only where it is another. */
function resizeTo(canvas: HTMLCanvasElement, { width, height, density }: Frame): void {
  const pixels = { width: Math.round(width * density), height: Math.round(height * density) };
  if (canvas.width !== pixels.width) canvas.width = pixels.width;
  if (canvas.height !== pixels.height) canvas.height = pixels.height;
}

export function DeviceFrame() {
  const { size, element: canvas } = useSize<HTMLCanvasElement>();
  const frame = useComputed<Frame>(() => ({ ...size.value, density: globalThis.devicePixelRatio || 1 }));
  const own = useSignal<Window | undefined>(undefined);
  const shown = useSignal<{ readonly window: Window; readonly span: Span } | undefined>(undefined);
  const drag = useRef<{ x: number; y: number } | undefined>(undefined);

  useSignalEffect(() => {
    const view = answer.value?.view;
    const context = canvas.current?.getContext("2d");
    if (view === undefined || context === null || context === undefined || frame.value.width === 0) return;
    resizeTo(canvas.current!, frame.value);
    const window = own.value ?? wholeOf(view, frame.value);
    const tokens: Tokens = tokensNow.value;
    const name = lit.value;
    const span = drawDevice(context, view, { frame: frame.value, window, tokens, isLit: (part) => belongsTo(part, name) });
    const before = shown.peek();
    if (before?.span.low !== span.low || before.span.high !== span.high || before.window.zoom !== window.zoom)
      shown.value = { window, span };
  });

  /** What is drawn now, and through which window; undefined before the first answer. */
  const looksAt = (): { view: DeviceView; window: Window; whole: Window } | undefined => {
    const view = answer.peek()?.view;
    if (view === undefined) return undefined;
    const whole = wholeOf(view, frame.peek());
    return { view, whole, window: own.peek() ?? whole };
  };

  const zoomAt = (factor: number, at: { readonly x: number; readonly y: number }): void => {
    const seen = looksAt();
    if (seen === undefined) return;
    const { whole, window: now } = seen;
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
    const seen = looksAt();
    if (seen === undefined) return;
    const { window: now } = seen;
    const { x, y } = placeIn(event);
    const { width, height } = frame.peek();
    const place = { x: now.x + (x - width / 2) / now.zoom, y: now.y + (height / 2 - y) / now.zoom };
    lit.value = partAt(seen.view, { place, reach: 4 / now.zoom });
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
    if (start === undefined) {
      point(event);
      return;
    }
    const now = looksAt()?.window;
    if (now === undefined) return;
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
