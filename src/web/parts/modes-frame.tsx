/**
 * How the device swings: one of its modes at a time, slowed down and enlarged as its caption says. Who wants no motion gets both extremes
 * in one still picture. Space stops and goes on, the arrows choose, wheel and + − 0 zoom.
 */
import { useComputed, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { dimensionNamed, formatQuantity } from "#base";
import type { ModeView } from "#devices";
import { svgOfScene } from "#picture";
import { linesOfMode, manyTimes, modeScene, scaleOfMode } from "../draw/modes-scene.ts";
import { paintScene } from "../draw/paint-scene.ts";
import { tableOfMode } from "../draw/tables.ts";
import { type Window, wholeOf } from "../draw/window.ts";
import { tokensNow } from "../state/mode.ts";
import { modes, pictureRefusal } from "../state/pictured.ts";
import { caseName, device, summary } from "../state/workbench.ts";
import { ScaleBar } from "./figure-words.tsx";
import { SaveWords } from "./save-words.tsx";
import { resizeTo, useWindow } from "./use-window.ts";

const wantsStill = matchMedia("(prefers-reduced-motion: reduce)");

const frequencyText = ({ frequency }: ModeView): string =>
  Number.isFinite(frequency) ? formatQuantity(frequency, dimensionNamed("frequency"), { digits: 3 }) : "unstable";
/** Unrest is far below a nanometre as a rule. */
const unrestText = (metres: number): string =>
  metres < 0.9995e-9
    ? `${Number((metres * 1e12).toPrecision(2))} pm`
    : formatQuantity(metres, dimensionNamed("length"), { digits: 2 });

/** What one sees, in two sentences: which mode, and how far from how it really moves. */
function wordsOf(mode: ModeView, zoom: number): readonly [string, string] {
  const where = mode.family === "in plane" ? "in the plane" : "out of the plane";
  if (!Number.isFinite(mode.frequency)) return [`${where}, unstable: it does not swing but goes away.`, "Drawn at no scale."];
  const { times, slowdown } = scaleOfMode(mode, zoom);
  const slow = `${frequencyText(mode)}, drawn ${manyTimes(slowdown!)} times slower`;
  const unrest = `its unrest by heat, ${unrestText(mode.unrest * mode.largest)}`;
  if (mode.family === "in plane")
    return [`${where}: ${slow}.`, `Motion drawn ${manyTimes(times!)} times as large as ${unrest}; all else true scale.`];
  return [`${where}: ${slow}.`, `Lighter and + is up, darker and − is down, at most by ${unrest}; true scale.`];
}

export function ModesFrame() {
  const chosen = useSignal(0);
  const isStopped = useSignal(wantsStill.matches);
  const mode = useComputed(() => modes.value[Math.min(chosen.value, modes.value.length - 1)]);
  const seen = useWindow(() => (mode.peek() === undefined ? undefined : linesOfMode(mode.peek()!)));
  const { canvas, frame, own } = seen;
  const window = useComputed<Window | undefined>(() =>
    mode.value === undefined || frame.value.width === 0
      ? undefined
      : (own.value ?? wholeOf(linesOfMode(mode.value), frame.value)),
  );
  /** Turns of the drawn swing since it was begun. */
  const turns = useRef(0.25);

  const paint = (phase: number | "both"): void => {
    const context = canvas.current?.getContext("2d");
    if (mode.value === undefined || window.value === undefined || context === null || context === undefined) return;
    resizeTo(canvas.current!, frame.value);
    const scene = modeScene(mode.value, { frame: frame.value, window: window.value, tokens: tokensNow.value, phase });
    paintScene(context, scene, frame.value.density);
  };
  const phaseNow = (): number => Math.sin(2 * Math.PI * turns.current);
  useSignalEffect(() => {
    const swings = Number.isFinite(mode.value?.frequency);
    if (isStopped.value || !swings) {
      paint(wantsStill.matches || !swings ? "both" : phaseNow());
      return undefined;
    }
    const { slowdown } = scaleOfMode(mode.value!, window.value?.zoom ?? 1);
    const perSecond = mode.value!.frequency / slowdown!;
    let before: number | undefined;
    let request = requestAnimationFrame(function next(time: number) {
      // a page that was out of sight goes on where it was
      turns.current += (perSecond * Math.min(100, time - (before ?? time))) / 1000;
      before = time;
      paint(phaseNow());
      request = requestAnimationFrame(next);
    });
    return () => cancelAnimationFrame(request);
  });
  useEffect(() => {
    const follow = (): void => {
      isStopped.value = wantsStill.matches;
    };
    wantsStill.addEventListener("change", follow);
    return () => wantsStill.removeEventListener("change", follow);
  }, [isStopped]);

  const drag = useRef<{ x: number; y: number } | undefined>(undefined);
  const choose = (next: number): void => {
    chosen.value = Math.max(0, Math.min(modes.value.length - 1, next));
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === " ") isStopped.value = !isStopped.value;
    else if (event.key === "ArrowRight" || event.key === "ArrowDown") choose(chosen.value + 1);
    else if (event.key === "ArrowLeft" || event.key === "ArrowUp") choose(chosen.value - 1);
    else if (!seen.takesKey(event.key)) return;
    event.preventDefault();
  };

  const at = modes.value.indexOf(mode.value!);
  const words = mode.value === undefined || window.value === undefined ? undefined : wordsOf(mode.value, window.value.zoom);
  const name = `${device.value} at ${caseName.value}, mode ${at + 1}`;
  const svg = (): string =>
    svgOfScene(modeScene(mode.value!, { frame: frame.value, window: window.value!, tokens: tokensNow.value, phase: "both" }), {
      title: `${summary.value?.title ?? ""}, ${name}`,
      caption: [
        `Mode ${at + 1} of ${name.replace(/, mode \d+$/, "")}, ${words![0]}`,
        `${words![1]} ${mode.value!.family === "in plane" ? "Dashed: at rest, and the other extreme." : "The other extreme has the signs exchanged."}`,
      ],
      tokens: tokensNow.value,
    });
  return (
    <>
      <canvas
        ref={canvas}
        tabIndex={0}
        role="img"
        aria-label={
          words === undefined
            ? `How ${device.value} swings at ${caseName.value}`
            : `Mode ${at + 1} of ${device.value}, ${words.join(" ")}`
        }
        onWheel={seen.onWheel}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          drag.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerMove={(event) => {
          if (drag.current === undefined) return;
          seen.moveBy(event.clientX - drag.current.x, event.clientY - drag.current.y);
          drag.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerUp={() => {
          drag.current = undefined;
        }}
        onKeyDown={onKeyDown}
      />
      {modes.value.length > 0 && pictureRefusal.value === undefined ? null : (
        <p class="no-state" role="status">
          {pictureRefusal.value ?? "Working out the modes"}
        </p>
      )}
      <figcaption>
        <span>
          <strong>Plate 3.</strong> Mode {at + 1} of {device.value} at {caseName.value}
          {words === undefined ? null : `, ${words[0]}`}
        </span>
        {words === undefined ? null : <span class="second-line">{words[1]}</span>}
        <fieldset class="choices" aria-label="Mode in view">
          {modes.value.map((one, i) => (
            <button
              key={`${i} ${one.frequency}`}
              type="button"
              class="choice"
              aria-pressed={i === at}
              aria-label={`Mode ${i + 1}, ${frequencyText(one)}, ${one.family === "in plane" ? "in the plane" : "out of the plane"}`}
              onClick={() => choose(i)}
            >
              {frequencyText(one)}
            </button>
          ))}
        </fieldset>
        {wantsStill.matches ? null : (
          <button
            type="button"
            class="choice"
            onClick={() => {
              isStopped.value = !isStopped.value;
            }}
          >
            {isStopped.value ? "go on" : "stop"}
          </button>
        )}
        {mode.value === undefined ? null : (
          <SaveWords name={name} what="the mode" svg={svg} csv={() => tableOfMode(mode.value!)} />
        )}
        <ScaleBar zoom={window.value?.zoom} />
      </figcaption>
    </>
  );
}
