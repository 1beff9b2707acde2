/**
 * Taking hold of the end of a beam in the picture: what it moves is what dragging the numbers in the words would, kept as one change.
 * The numbers themselves are the way by keys.
 */
import { type Signal, useSignal } from "@preact/signals";
import { useRef } from "preact/hooks";
import { changesFor, nearestEnd, type PlacedEnd, placeEnds, reallyChanged } from "../draw/ends.ts";
import { ends } from "../state/ends.ts";
import { answer, chosen, heldDigits, hold, isHolding, keepHeld, letGo } from "../state/workbench.ts";
import { prettyUnit } from "./number-text.ts";
import type { PictureWindow } from "./use-window.ts";

/** How near a pointer must come to an end, and how far it must go before anything moves, [px]. */
const reach = { fine: 12, coarse: 24 } as const;
const leastWay = 3;

interface Grasp {
  readonly placed: PlacedEnd;
  readonly from: { readonly x: number; readonly y: number };
  readonly zoom: number;
  /** The window stood on the whole before. */
  readonly wasWhole: boolean;
  moved: boolean;
}

export interface EndHandles {
  /** The end under the pointer or in hand. */
  readonly under: Signal<PlacedEnd | undefined>;
  /** Where the pointer is, [px] of the picture. */
  readonly pointer: Signal<{ readonly x: number; readonly y: number }>;
  /** All that may be taken, where they stand now. */
  all(): readonly PlacedEnd[];
  /** True where the pointer took hold of an end. */
  take(event: PointerEvent): boolean;
  /** True while an end is in hand. */
  move(event: PointerEvent): boolean;
  letGo(outcome: "keep" | "put back"): void;
  /** Follows a pointer that holds nothing. */
  look(event: PointerEvent | undefined): void;
}

export function useEnds(picture: PictureWindow): EndHandles {
  const under = useSignal<PlacedEnd | undefined>(undefined);
  const pointer = useSignal({ x: 0, y: 0 });
  const grasp = useRef<Grasp | undefined>(undefined);
  const all = (): readonly PlacedEnd[] => {
    const view = answer.value?.view;
    return view === undefined ? [] : placeEnds(view, ends.value);
  };
  const endAt = (event: PointerEvent): PlacedEnd | undefined => {
    const window = picture.window();
    if (window === undefined) return undefined;
    const pixels = event.pointerType === "mouse" ? reach.fine : reach.coarse;
    return nearestEnd(all(), { place: picture.placeOf(picture.pixelOf(event)), reach: pixels / window.zoom });
  };
  return {
    under,
    pointer,
    all,
    take(event) {
      const [placed, window] = [endAt(event), picture.window()];
      if (placed === undefined || window === undefined || event.button !== 0) return false;
      grasp.current = {
        placed,
        from: { x: event.clientX, y: event.clientY },
        zoom: window.zoom,
        wasWhole: picture.own.peek() === undefined,
        moved: false,
      };
      // the picture must not be fitted anew while the device grows under the pointer
      picture.own.value = window;
      under.value = placed;
      pointer.value = picture.pixelOf(event);
      chosen.value = placed.end.numbers[0]!.handle;
      return true;
    },
    move(event) {
      const now = grasp.current;
      if (now === undefined) return false;
      const [dx, dy] = [event.clientX - now.from.x, now.from.y - event.clientY];
      if (!now.moved && Math.hypot(dx, dy) < leastWay) return true;
      now.moved = true;
      pointer.value = picture.pixelOf(event);
      const changes = reallyChanged(changesFor(now.placed.end, [dx / now.zoom, dy / now.zoom]));
      const isSame =
        isHolding.peek() === changes.length > 0 && changes.every(({ handle, digits }) => heldDigits(handle.key) === digits);
      if (isSame) return true;
      if (changes.length === 0) letGo();
      else hold(...changes.map(({ handle, digits }) => ({ key: handle.key, digits })));
      return true;
    },
    letGo(outcome) {
      const now = grasp.current;
      if (now === undefined) return;
      grasp.current = undefined;
      under.value = undefined;
      if (now.wasWhole) picture.own.value = undefined;
      if (outcome === "keep") void keepHeld();
      else letGo();
    },
    look(event) {
      const found = event === undefined ? undefined : endAt(event);
      if (event !== undefined && found !== undefined) pointer.value = picture.pixelOf(event);
      if (found?.end !== under.peek()?.end) under.value = found;
    },
  };
}

/** What an end is set by, beside the pointer: as it stands, or from what to what. */
export function EndWords({ handles, seen }: { readonly handles: EndHandles; readonly seen: PictureWindow }) {
  const placed = handles.under.value;
  if (placed === undefined) return null;
  const { x, y } = handles.pointer.value;
  const isMoving = isHolding.value;
  const lines = placed.end.numbers.flatMap(({ handle }) => {
    const now = heldDigits(handle.key);
    const unit = prettyUnit(handle.unit);
    const gap = unit === "°" ? "" : " ";
    if (now === undefined) return isMoving ? [] : [`${handle.name} ${handle.digits}${gap}${unit}`];
    return [`${handle.name} ${handle.digits} → ${now}${gap}${unit}`];
  });
  const isRight = x > seen.frame.value.width / 2;
  const { offsetLeft = 0, offsetTop = 0 } = seen.canvas.current ?? {};
  return (
    <p
      class={`at-pointer${isRight ? " to-left" : ""}`}
      role="status"
      style={{ left: `${offsetLeft + x}px`, top: `${offsetTop + y}px` }}
    >
      {lines.map((words) => (
        <span key={words}>{words}</span>
      ))}
    </p>
  );
}
