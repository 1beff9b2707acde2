/**
 * The device at true scale beside the prose: it moves and warms with every number that is held. Wheel and the keys + and − zoom,
 * dragging moves the window, 0 shows the whole again; an end of a beam that has a ring can be dragged itself.
 */
import { useSignal, useSignalEffect } from "@preact/signals";
import { useRef } from "preact/hooks";
import type { Tokens } from "#picture";
import { drawDevice, type Span } from "../draw/draw-device.ts";
import { drawEnds } from "../draw/draw-ends.ts";
import { thinned } from "../draw/ends.ts";
import { paintShapes } from "../draw/paint-scene.ts";
import { partAt, partNames } from "../draw/part-at.ts";
import { tableOfView } from "../draw/tables.ts";
import { viewIsolines } from "../draw/view-isolines.ts";
import { linesOfView, type Window, wholeOf } from "../draw/window.ts";
import { needsIsolines, showsIsolines, wantsIsolines } from "../state/isolines.ts";
import { belongsTo, lit } from "../state/lit.ts";
import { tokensNow } from "../state/mode.ts";
import { answer, caseName, device, exaggeration, lookAt, pictureOfDevice } from "../state/workbench.ts";
import { SaveWords } from "./save-words.tsx";
import { barOf, temperatureText } from "./scale-bar.ts";
import { EndWords, useEnds } from "./use-ends.tsx";
import { resizeTo, useWindow } from "./use-window.ts";

/** Radius of the rings on ends, and the least distance between them, [px]. */
const rings = matchMedia("(pointer: coarse)").matches ? { radius: 9, apart: 44 } : { radius: 5, apart: 28 };

export function DeviceFrame() {
  const seen = useWindow(() => {
    const view = answer.peek()?.view;
    return view === undefined ? undefined : linesOfView(view);
  });
  const { canvas, frame, own } = seen;
  const shown = useSignal<{ readonly window: Window; readonly span: Span } | undefined>(undefined);
  const drag = useRef<{ x: number; y: number } | undefined>(undefined);
  const handles = useEnds(seen);
  /** Rings show while someone is at the picture. */
  const isVisited = useSignal(false);

  useSignalEffect(() => {
    const view = answer.value?.view;
    const context = canvas.current?.getContext("2d");
    if (view === undefined || context === null || context === undefined || frame.value.width === 0) return;
    resizeTo(canvas.current!, frame.value);
    const window = own.value ?? wholeOf(linesOfView(view), frame.value);
    const tokens: Tokens = tokensNow.value;
    const name = lit.value;
    const span = drawDevice(context, view, { frame: frame.value, window, tokens, isLit: (part) => belongsTo(part, name) });
    if (showsIsolines.value)
      paintShapes(context, viewIsolines(view, { span, frame: frame.value, window, tokens }), frame.value.density);
    if (isVisited.value || handles.under.value !== undefined || rings.radius > 5) {
      const all = handles.all();
      const held = all.find(({ end }) => end === handles.under.value?.end);
      drawEnds(context, thinned(all, rings.apart / window.zoom), {
        frame: frame.value,
        window,
        tokens,
        radius: rings.radius,
        held,
      });
    }
    const before = shown.peek();
    if (before?.span.low !== span.low || before.span.high !== span.high || before.window.zoom !== window.zoom)
      shown.value = { window, span };
  });

  /** The next part or the one before, through all of them. */
  const walk = (step: number): void => {
    const view = answer.peek()?.view;
    if (view === undefined) return;
    const names = partNames(view);
    const at = names.indexOf(lit.peek() ?? "");
    lit.value = names[(at + step + names.length + (at < 0 && step < 0 ? 1 : 0)) % names.length];
  };
  const point = (event: PointerEvent): void => {
    const [view, window] = [answer.peek()?.view, seen.window()];
    if (view === undefined || window === undefined) return;
    lit.value = partAt(view, { place: seen.placeOf(seen.pixelOf(event)), reach: 4 / window.zoom });
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === "ArrowRight" || event.key === "ArrowDown") walk(1);
    else if (event.key === "ArrowLeft" || event.key === "ArrowUp") walk(-1);
    else if (event.key === "Escape") handles.letGo("put back");
    else if (!seen.takesKey(event.key)) return;
    event.preventDefault();
  };
  const onPointerMove = (event: PointerEvent): void => {
    if (handles.move(event)) return;
    const start = drag.current;
    if (start === undefined) {
      handles.look(event);
      point(event);
      return;
    }
    seen.moveBy(event.clientX - start.x, event.clientY - start.y);
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
        onWheel={seen.onWheel}
        onPointerEnter={() => {
          isVisited.value = true;
        }}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          if (!handles.take(event)) drag.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerMove={onPointerMove}
        onPointerUp={() => {
          drag.current = undefined;
          handles.letGo("keep");
        }}
        onPointerCancel={() => {
          drag.current = undefined;
          handles.letGo("put back");
        }}
        onPointerLeave={() => {
          isVisited.value = false;
          handles.look(undefined);
          lit.value = undefined;
        }}
        onFocus={() => {
          isVisited.value = true;
        }}
        onBlur={() => {
          isVisited.value = false;
          lit.value = undefined;
        }}
        onKeyDown={onKeyDown}
      />
      <EndWords handles={handles} seen={seen} />
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
        {needsIsolines.value || span === undefined || !(span.high - span.low > 1) ? null : (
          <button
            type="button"
            class="choice"
            aria-pressed={wantsIsolines.value}
            onClick={() => {
              wantsIsolines.value = !wantsIsolines.value;
            }}
          >
            lines of equal warmth
          </button>
        )}
        {found?.view === undefined ? null : (
          <SaveWords
            name={`${device.value} at ${caseName.value}`}
            what="the picture"
            svg={() => pictureOfDevice(tokensNow.value, showsIsolines.value)}
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
