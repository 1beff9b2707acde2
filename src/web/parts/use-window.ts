/** What of the die a picture shows: zoomed by wheel and keys about a point, moved by dragging, the whole by default. */
import { type ReadonlySignal, type Signal, useComputed, useSignal } from "@preact/signals";
import type { RefObject } from "preact";
import { type Frame, type Window, wholeOf } from "../draw/window.ts";
import { useSize } from "./use-size.ts";

const steps = { zoom: 1.25, most: 4000, least: 0.2 };

interface Pixel {
  readonly x: number;
  readonly y: number;
}

export interface PictureWindow {
  readonly canvas: RefObject<HTMLCanvasElement | null>;
  readonly frame: ReadonlySignal<Frame>;
  /** Undefined while the whole is shown. */
  readonly own: Signal<Window | undefined>;
  /** Through which the picture is seen now; undefined where there is nothing to see. */
  window(): Window | undefined;
  zoomAt(factor: number, at: Pixel): void;
  moveBy(dx: number, dy: number): void;
  /** Answers the keys + − and 0; true where it was one of them. */
  takesKey(key: string): boolean;
  onWheel(event: WheelEvent): void;
  pixelOf(event: MouseEvent): Pixel;
  /** The place of the die under a pixel, [m]. */
  placeOf(pixel: Pixel): Pixel;
}

/** `subject` gives the lines that the whole of the picture is measured from, [n × 2] m each. */
export function useWindow(subject: () => readonly Float64Array[] | undefined): PictureWindow {
  const { size, element: canvas } = useSize<HTMLCanvasElement>();
  const frame = useComputed<Frame>(() => ({ ...size.value, density: globalThis.devicePixelRatio || 1 }));
  const own = useSignal<Window | undefined>(undefined);
  const whole = (): Window | undefined => {
    const seen = subject();
    return seen === undefined ? undefined : wholeOf(seen, frame.peek());
  };
  const window = (): Window | undefined => own.peek() ?? whole();
  const pixelOf = (event: MouseEvent): Pixel => {
    const box = canvas.current!.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const zoomAt = (factor: number, at: Pixel): void => {
    const [all, now] = [whole(), window()];
    if (all === undefined || now === undefined) return;
    const zoom = Math.min(Math.max(now.zoom * factor, all.zoom * steps.least), all.zoom * steps.most);
    const { width, height } = frame.peek();
    const [dx, dy] = [at.x - width / 2, height / 2 - at.y];
    own.value = { zoom, x: now.x + dx / now.zoom - dx / zoom, y: now.y + dy / now.zoom - dy / zoom };
  };
  return {
    canvas,
    frame,
    own,
    window,
    zoomAt,
    pixelOf,
    moveBy(dx, dy) {
      const now = window();
      if (now !== undefined) own.value = { ...now, x: now.x - dx / now.zoom, y: now.y + dy / now.zoom };
    },
    takesKey(key) {
      const middle = { x: frame.peek().width / 2, y: frame.peek().height / 2 };
      if (key === "+" || key === "=") zoomAt(steps.zoom, middle);
      else if (key === "-") zoomAt(1 / steps.zoom, middle);
      else if (key === "0") own.value = undefined;
      else return false;
      return true;
    },
    onWheel(event) {
      event.preventDefault();
      zoomAt(event.deltaY < 0 ? steps.zoom : 1 / steps.zoom, pixelOf(event));
    },
    placeOf({ x, y }) {
      const now = window() ?? { x: 0, y: 0, zoom: 1 };
      const { width, height } = frame.peek();
      return { x: now.x + (x - width / 2) / now.zoom, y: now.y + (height / 2 - y) / now.zoom };
    },
  };
}

/** Gives a canvas the pixels of its frame. A canvas that is told its size is cleared, and costs memory anew: only where it is another. */
export function resizeTo(canvas: HTMLCanvasElement, { width, height, density }: Frame): void {
  const pixels = { width: Math.round(width * density), height: Math.round(height * density) };
  if (canvas.width !== pixels.width) canvas.width = pixels.width;
  if (canvas.height !== pixels.height) canvas.height = pixels.height;
}
