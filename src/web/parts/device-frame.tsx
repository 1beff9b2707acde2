/**
 * The device at true scale beside the prose: it moves and warms with every number that is held. Wheel and the keys + and − zoom,
 * dragging moves the window, 0 shows the whole again; an end of a beam that has a ring can be dragged itself.
 */
import { useSignal, useSignalEffect } from "@preact/signals";
import { useRef } from "preact/hooks";
import type { Tokens } from "#picture";
import { drawDevice } from "../draw/draw-device.ts";
import { drawEnds } from "../draw/draw-ends.ts";
import { thinned } from "../draw/ends.ts";
import { loupeShapes } from "../draw/loupe-scene.ts";
import { paintShapes } from "../draw/paint-scene.ts";
import { partAt, partNames } from "../draw/part-at.ts";
import { viewIsolines } from "../draw/view-isolines.ts";
import { linesOfView, wholeOf } from "../draw/window.ts";
import { showsIsolines } from "../state/isolines.ts";
import { loupe } from "../state/layers.ts";
import { belongsTo, lit } from "../state/lit.ts";
import { tokensNow } from "../state/mode.ts";
import { answer, caseName, device } from "../state/workbench.ts";
import { DeviceCaption, motionWords, type Shown } from "./device-caption.tsx";
import { EndWords, useEnds } from "./use-ends.tsx";
import { useLoupe } from "./use-loupe.tsx";
import { resizeTo, useWindow } from "./use-window.ts";

/** Radius of the rings on ends, and the least distance between them, [px]. */
const rings = matchMedia("(pointer: coarse)").matches ? { radius: 9, apart: 44 } : { radius: 5, apart: 28 };

export function DeviceFrame() {
  const seen = useWindow(() => {
    const view = answer.peek()?.view;
    return view === undefined ? undefined : linesOfView(view);
  });
  const { canvas, frame, own } = seen;
  const shown = useSignal<Shown | undefined>(undefined);
  const drag = useRef<{ x: number; y: number } | undefined>(undefined);
  const handles = useEnds(seen);
  const lens = useLoupe(seen);
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
    const lensView = lens.view(tokens);
    if (lensView !== undefined) paintShapes(context, loupeShapes(lensView), frame.value.density);
    else if (isVisited.value || handles.under.value !== undefined || rings.radius > 5) {
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
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    const isTaken = lens.takesKey(event) || seen.takesKey(event.key);
    if (!isTaken && step !== undefined) walk(step);
    else if (!isTaken && event.key === "Escape") handles.letGo("put back");
    else if (!isTaken) return;
    event.preventDefault();
  };
  const onPointerMove = (event: PointerEvent): void => {
    if (handles.move(event)) return;
    if (loupe.peek() !== undefined) lens.follow(event);
    const start = drag.current;
    if (start === undefined) {
      handles.look(loupe.peek() === undefined ? event : undefined);
      point(event);
      return;
    }
    seen.moveBy(event.clientX - start.x, event.clientY - start.y);
    drag.current = { x: event.clientX, y: event.clientY };
  };

  const found = answer.value;
  return (
    <>
      <canvas
        ref={canvas}
        tabIndex={0}
        role="img"
        class={loupe.value === undefined ? undefined : "with-loupe"}
        aria-label={`${device.value} seen from above at ${caseName.value}, ${motionWords()}; the sentences beside it say the same in numbers`}
        onWheel={seen.onWheel}
        onPointerEnter={() => {
          isVisited.value = true;
        }}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          if (loupe.peek() !== undefined) lens.follow(event);
          else if (handles.take(event)) return;
          // a finger moves the loupe, a mouse the picture under it
          if (loupe.peek() === undefined || event.pointerType !== "touch") drag.current = { x: event.clientX, y: event.clientY };
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
      <DeviceCaption shown={shown.value} loupe={lens.view(tokensNow.value)} />
    </>
  );
}
