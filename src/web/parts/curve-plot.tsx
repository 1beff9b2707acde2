/**
 * One plot of what the device does along its drive or in time: an L-shaped frame, few ticks, the name at the line's end, limits as
 * fences with stippled ground behind, and the point where the device stands as a bead that can be dragged.
 */
import { useRef } from "preact/hooks";
import { niceTicks, tickTexts } from "#picture";
import type { CurvePlot, Rail } from "#workbench";
import { hold, keepHeld, letGo } from "../state/workbench.ts";

const room = { left: 52, right: 64, top: 30, bottom: 34 } as const;

interface Size {
  readonly width: number;
  readonly height: number;
}

interface Frame {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly back: (pixel: number) => number;
  readonly ranges: { readonly x: readonly [number, number]; readonly y: readonly [number, number] };
}

function rangeOf(values: Iterable<number>): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (low > high) return [0, 1];
  if (low >= 0 && low < 0.35 * high) low = 0;
  return high > low ? [low, high + 0.06 * (high - low)] : [low - 0.5, high + 0.5];
}

/** Limits of the brief on what is plotted here, in units of the plot. Of a limit on a size, only those on the side of the curve. */
export function limitsOn(plot: CurvePlot, at: { readonly rails: readonly Rail[]; readonly caseName: string }) {
  const [least, most] = rangeOf(plot.curves.flatMap(({ y }) => [...y]));
  return at.rails.flatMap(({ metric, caseName, fences }) => {
    if (plot.metric === undefined || metric !== plot.metric || caseName !== at.caseName) return [];
    const isMirrored = (fence: number): boolean => fences.some(({ at: other }) => other === -fence && fence !== 0);
    return fences
      .filter(({ at: fence }) => !isMirrored(fence) || fence > 0 === most > -least)
      .map(({ at: fence, kind }) => ({ value: fence / plot.y.factor, isLeast: kind === "at least" }));
  });
}

type Limits = ReturnType<typeof limitsOn>;

function frameOf(plot: CurvePlot, at: { readonly size: Size; readonly limits: Limits }): Frame {
  const { width, height } = at.size;
  const xRange = rangeOf(plot.curves.flatMap(({ x }) => [...x]));
  const yRange = rangeOf([...plot.curves.flatMap(({ y }) => [...y]), ...at.limits.map(({ value }) => value)]);
  const [left, right, top, base] = [room.left, width - room.right, room.top, height - room.bottom];
  const perX = (right - left) / (xRange[1] - xRange[0]);
  return {
    x: (value) => left + (value - xRange[0]) * perX,
    y: (value) => base - ((value - yRange[0]) / (yRange[1] - yRange[0])) * (base - top),
    back: (pixel) => xRange[0] + (pixel - left) / perX,
    ranges: { x: xRange, y: yRange },
  };
}

/** A line as a path; what is no number breaks it. */
function pathOf(curve: CurvePlot["curves"][number], { x, y }: Frame): string {
  let path = "";
  let isOpen = false;
  curve.x.forEach((value, i) => {
    const height = curve.y[i]!;
    if (Number.isFinite(height)) path += `${isOpen ? "L" : "M"}${x(value).toFixed(1)} ${y(height).toFixed(1)}`;
    isOpen = Number.isFinite(height);
  });
  return path;
}

function Axes({ plot, frame, size }: { readonly plot: CurvePlot; readonly frame: Frame; readonly size: Size }) {
  const [right, base] = [size.width - room.right, size.height - room.bottom];
  const xTicks = niceTicks(...frame.ranges.x);
  const yTicks = niceTicks(...frame.ranges.y);
  const [xTexts, yTexts] = [tickTexts(xTicks), tickTexts(yTicks)];
  return (
    <>
      <path class="axis" d={`M${room.left} ${room.top}V${base}H${right}`} />
      {xTicks.map((tick, i) => (
        <text key={tick} class="tick" x={frame.x(tick)} y={base + 15} text-anchor="middle">
          {xTexts[i]}
        </text>
      ))}
      {yTicks.map((tick, i) => (
        <text key={tick} class="tick" x={room.left - 6} y={frame.y(tick) + 4} text-anchor="end">
          {yTexts[i]}
        </text>
      ))}
      <text class="axis-name" x={right} y={base + 29} text-anchor="end">
        {plot.x.name}, {plot.x.unit}
      </text>
      <text class="axis-name" x={room.left - 40} y={room.top - 12}>
        {plot.y.name}, {plot.y.unit}
      </text>
    </>
  );
}

export interface CurvePlotProps {
  readonly plot: CurvePlot;
  readonly size: Size;
  readonly limits: Limits;
  /** Where the device stands, in units of the plot; undefined in time. */
  readonly now: { readonly x: number; readonly y: number } | undefined;
}

export function CurvePlotPanel({ plot, size, limits, now }: CurvePlotProps) {
  const drawing = useRef<SVGSVGElement>(null);
  const frame = frameOf(plot, { size, limits });
  const [right, base] = [size.width - room.right, size.height - room.bottom];
  const { handle } = plot;
  const follow = (event: PointerEvent): void => {
    if (handle === undefined || drawing.current === null) return;
    const box = drawing.current.getBoundingClientRect();
    const inside = Math.max(frame.ranges.x[0], Math.min(frame.ranges.x[1], frame.back(event.clientX - box.left)));
    hold({ key: handle.key, digits: (inside / plot.perDigit).toFixed(handle.decimals) });
  };
  const ends = plot.curves.map((curve) => ({
    kind: curve.kind,
    y: frame.y([...curve.y].reverse().find(Number.isFinite) ?? Number.NaN),
  }));
  // names at the ends of lines keep a line of text between them
  const apart = ends.length === 2 && Math.abs(ends[0]!.y - ends[1]!.y) < 14 ? Math.sign(ends[0]!.y - ends[1]!.y || 1) * 7 : 0;
  return (
    <svg ref={drawing} class="curve-plot" width={size.width} height={size.height} role="img" aria-label={plot.title}>
      {limits.map(({ value, isLeast }) => (
        <g key={`${value} ${isLeast}`}>
          <rect
            class="ground"
            fill="url(#stipple)"
            x={room.left}
            width={right - room.left}
            y={isLeast ? frame.y(value) : room.top}
            height={Math.max(0, isLeast ? base - frame.y(value) : frame.y(value) - room.top)}
          />
          <path class="fence" d={`M${room.left} ${frame.y(value)}H${right}`} />
        </g>
      ))}
      <Axes plot={plot} frame={frame} size={size} />
      {plot.curves.map((curve, i) => (
        <g key={curve.kind}>
          <path class={`curve ${curve.kind === "as drawn" ? "of-drawn" : "of-built"}`} d={pathOf(curve, frame)} />
          <text class="axis-name" x={right + 4} y={(ends[i]!.y || base) + 4 + (i === 0 ? apart : -apart)}>
            {curve.kind}
          </text>
        </g>
      ))}
      {now === undefined || !Number.isFinite(now.y) ? null : (
        <>
          <path class="way" d={`M${frame.x(now.x)} ${frame.y(now.y)}V${base}`} />
          <circle
            class={handle === undefined ? "as-built" : "bead"}
            cx={frame.x(now.x)}
            cy={frame.y(now.y)}
            r="7"
            onPointerDown={(event) => {
              event.currentTarget.setPointerCapture(event.pointerId);
            }}
            onPointerMove={(event) => {
              if (event.currentTarget.hasPointerCapture(event.pointerId)) follow(event);
            }}
            onPointerUp={() => void keepHeld()}
            onPointerCancel={letGo}
          />
        </>
      )}
    </svg>
  );
}
