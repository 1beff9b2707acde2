/**
 * The layers of the device one above the other, seen obliquely: dragging and the arrows turn it, wheel and + − zoom, Shift moves it
 * instead, 0 goes back. Heights are true unless the caption says otherwise.
 */
import { useSignal, useSignalEffect } from "@preact/signals";
import { useRef } from "preact/hooks";
import { dimensionNamed, formatQuantity } from "#base";
import type { DeviceLayers } from "#chip";
import { svgOfScene } from "#picture";
import { paintScene } from "../draw/paint-scene.ts";
import { firstView, lowestEye, type StackView, stackScene, tableOfStack } from "../draw/stack-scene.ts";
import { layers } from "../state/layers.ts";
import { tokensNow } from "../state/mode.ts";
import { device, summary } from "../state/workbench.ts";
import { ScaleBar, TimesLarger } from "./figure-words.tsx";
import { SaveWords } from "./save-words.tsx";
import { useSize } from "./use-size.ts";
import { resizeTo } from "./use-window.ts";

/** Turn a pixel, and a key, [rad]; pixels a key; zoom a key. */
const steps = { pixel: 0.008, key: 0.1, move: 24, zoom: 1.25 } as const;

const lengthText = (metres: number): string => formatQuantity(metres, dimensionNamed("length"), { digits: 3 });

function wordsOf({ thickness, depth }: DeviceLayers, { heights, apart }: StackView): readonly [string, string] {
  const recess = depth === undefined ? "" : ` over a recess of ${lengthText(depth)} in the glass`;
  const scale = heights === 1 ? "Heights at true scale" : `Heights drawn ${heights} times as large`;
  return [
    `as drawn, seen obliquely: silicon of ${lengthText(thickness)}${recess}.`,
    `${scale}${apart > 0 ? ", the layers pulled apart" : ""}. Metal has no height of its own here.`,
  ];
}

export function StackFrame() {
  const { size, element: canvas } = useSize<HTMLCanvasElement>();
  const view = useSignal<StackView>(firstView);
  const scale = useSignal<number | undefined>(undefined);
  const drag = useRef<{ x: number; y: number } | undefined>(undefined);
  const sceneNow = (at: StackView) => {
    const found = layers.value;
    const { width, height } = size.value;
    return found === undefined || width === 0
      ? undefined
      : stackScene(found, { view: at, frame: { width, height }, tokens: tokensNow.value });
  };
  useSignalEffect(() => {
    const scene = sceneNow(view.value);
    const context = canvas.current?.getContext("2d");
    if (scene === undefined || context === null || context === undefined) return;
    const density = globalThis.devicePixelRatio || 1;
    resizeTo(canvas.current!, { ...size.value, density });
    paintScene(context, scene, density);
    scale.value = scene.scale;
  });

  const change = (next: Partial<StackView>): void => {
    view.value = { ...view.peek(), ...next };
  };
  const turnBy = (dx: number, dy: number): void => {
    const { turn, eye } = view.peek();
    change({ turn: turn + dx, eye: Math.min(Math.PI / 2, Math.max(lowestEye, eye + dy)) });
  };
  const moveBy = (dx: number, dy: number): void => {
    const [x, y] = view.peek().moved;
    change({ moved: [x + dx, y + dy] });
  };
  /** About a pixel, measured from the middle of the picture. */
  const zoomBy = (factor: number, [x, y]: readonly [number, number]): void => {
    const { zoom, moved } = view.peek();
    const next = Math.min(40, Math.max(0.5, zoom * factor));
    const grown = next / zoom;
    change({ zoom: next, moved: [x + (moved[0] - x) * grown, y + (moved[1] - y) * grown] });
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const way = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (way !== undefined && event.shiftKey) moveBy(way[0]! * steps.move, way[1]! * steps.move);
    else if (way !== undefined) turnBy(way[0]! * steps.key, way[1]! * steps.key);
    else if (event.key === "+" || event.key === "=") zoomBy(steps.zoom, [0, 0]);
    else if (event.key === "-") zoomBy(1 / steps.zoom, [0, 0]);
    else if (event.key === "0") change({ ...firstView, apart: view.peek().apart, heights: view.peek().heights });
    else return;
    event.preventDefault();
  };
  const onWheel = (event: WheelEvent): void => {
    event.preventDefault();
    const box = canvas.current!.getBoundingClientRect();
    const at = [event.clientX - box.left - box.width / 2, event.clientY - box.top - box.height / 2] as const;
    zoomBy(Math.exp(-event.deltaY * 2e-3), at);
  };
  const onPointerMove = (event: PointerEvent): void => {
    const start = drag.current;
    if (start === undefined) return;
    const [dx, dy] = [event.clientX - start.x, event.clientY - start.y];
    if (event.shiftKey) moveBy(dx, dy);
    else turnBy(dx * steps.pixel, dy * steps.pixel);
    drag.current = { x: event.clientX, y: event.clientY };
  };
  const letGo = (): void => {
    drag.current = undefined;
  };

  const found = layers.value;
  const words = found === undefined ? undefined : wordsOf(found, view.value);
  const name = `layers of ${device.value}`;
  const svg = (): string =>
    svgOfScene(sceneNow(view.peek())!, {
      title: `${summary.value?.title ?? ""}, ${name}`,
      caption: [`Layers of ${device.value}, ${words![0]}`, words![1]],
      tokens: tokensNow.value,
    });
  return (
    <>
      <canvas
        ref={canvas}
        tabIndex={0}
        role="img"
        aria-label={`Layers of ${device.value}${words === undefined ? "" : `, ${words.join(" ")}`}`}
        onWheel={onWheel}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          drag.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerMove={onPointerMove}
        onPointerUp={letGo}
        onPointerCancel={letGo}
        onKeyDown={onKeyDown}
      />
      {found !== undefined ? null : (
        <p class="no-state" role="status">
          Laying out the layers
        </p>
      )}
      <figcaption>
        <span>
          <strong>Plate 4.</strong> Layers of {device.value}
          {words === undefined ? null : `, ${words[0]}`}
        </span>
        {words === undefined ? null : <span class="second-line">{words[1]}</span>}
        <TimesLarger
          word="heights"
          label="How large heights are drawn"
          factors={[1, 3, 10]}
          chosen={view.value.heights}
          onChoose={(heights) => change({ heights })}
        />
        <button
          type="button"
          class="choice"
          aria-pressed={view.value.apart > 0}
          onClick={() => change({ apart: view.peek().apart > 0 ? 0 : 4 })}
        >
          pulled apart
        </button>
        {found === undefined || found.silicon.length === 0 ? null : (
          <SaveWords name={name} what="the layers" svg={svg} csv={() => tableOfStack(found)} />
        )}
        <ScaleBar zoom={scale.value} />
      </figcaption>
    </>
  );
}
