/** Size of an element of the page as it is laid out. */
import { type Signal, useSignal } from "@preact/signals";
import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";

export interface Size {
  /** [px] */
  readonly width: number;
  readonly height: number;
}

export function useSize<T extends HTMLElement>(): { readonly size: Signal<Size>; readonly element: RefObject<T | null> } {
  const size = useSignal<Size>({ width: 0, height: 0 });
  const element = useRef<T>(null);
  useEffect(() => {
    const laidOut = element.current!;
    const observer = new ResizeObserver(() => {
      size.value = { width: laidOut.clientWidth, height: laidOut.clientHeight };
    });
    observer.observe(laidOut);
    return () => observer.disconnect();
  }, [element, size]);
  return { size, element };
}
