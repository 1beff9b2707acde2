/**
 * The plane of two sizes: bare where every limit holds, stippled elsewhere, each edge with its limit along it, lines of equal chance, the
 * likeliest design as a cross, and the design itself as a bead that is dragged or stepped by keys.
 */
import { useComputed } from "@preact/signals";
import { useRef } from "preact/hooks";
import { displayScale } from "#base";
import { chanceAt, inHundred, type Region, regionParts, type SizeChoice } from "#chip";
import { layoutRegion, niceTicks, type RegionFrame, type RegionLayout, tickTexts } from "#picture";
import { choiceOf, digitsFor, presentOf, region, study } from "../../state/size.ts";
import { hold, isHolding, keepHeld, letGo } from "../../state/workbench.ts";
import { prettyUnit } from "../number-text.ts";
import type { Size } from "../use-size.ts";

const room = { left: 56, right: 16, top: 30, bottom: 44 } as const;
const wordSize = 13;

interface Plane {
  readonly region: Region;
  readonly layout: RegionLayout;
  readonly frame: RegionFrame;
  readonly parts: ReturnType<typeof regionParts>;
}

function Axes({ plane: { frame, layout, parts } }: { readonly plane: Plane }) {
  const { x, y } = parts;
  const [xTicks, yTicks] = [niceTicks(x.low, x.high), niceTicks(y.low, y.high)];
  const [xTexts, yTexts] = [tickTexts(xTicks), tickTexts(yTicks)];
  const named = ({ name, unit }: typeof x): string => (unit === "" ? name : `${name}, ${unit}`);
  return (
    <>
      <path class="axis" d={`M${frame.left} ${frame.top}V${frame.base}H${frame.right}`} />
      {xTicks.map((tick, i) => (
        <text key={tick} class="tick" x={layout.place(tick, y.low)[0]} y={frame.base + 16} text-anchor="middle">
          {xTexts[i]}
        </text>
      ))}
      {yTicks.map((tick, i) => (
        <text key={tick} class="tick" x={frame.left - 8} y={layout.place(x.low, tick)[1] + 4} text-anchor="end">
          {yTexts[i]}
        </text>
      ))}
      <text class="axis-name" x={frame.right} y={frame.base + 36} text-anchor="end">
        {named(x)}
      </text>
      <text class="axis-name" x={frame.left - 40} y={frame.top - 12}>
        {named(y)}
      </text>
    </>
  );
}

function Ground({ plane: { layout, frame } }: { readonly plane: Plane }) {
  const along = ({ at: [x, y], turn }: NonNullable<RegionLayout["edges"][number]["words"]>): string =>
    `translate(${x} ${y}) rotate(${turn}) translate(0 -6)`;
  return (
    <>
      <clipPath id="region-plane">
        <rect x={frame.left} y={frame.top} width={frame.right - frame.left} height={frame.base - frame.top} />
      </clipPath>
      <rect class="sheet" x={frame.left} y={frame.top} width={frame.right - frame.left} height={frame.base - frame.top} />
      <path class="stipple-dot" d={layout.ground} />
      <g clip-path="url(#region-plane)">
        {layout.edges.map(({ path, bounds }, i) => (
          <path key={`${i} ${path.length}`} class={bounds ? "region-edge bounding" : "region-edge"} d={path} />
        ))}
        {layout.contours.map(({ label, path }) => (
          <path key={label} class="contour" d={path} />
        ))}
      </g>
      {layout.edges.map(({ label, words, bounds }, i) =>
        words === undefined ? null : (
          <text key={`${i} ${label}`} class={bounds ? "edge-words bounding" : "edge-words"} transform={along(words)}>
            {label}
          </text>
        ),
      )}
      {layout.contours.map(({ label, words }) =>
        words === undefined ? null : (
          <text key={label} class="edge-words chance" transform={along(words)}>
            {label}
          </text>
        ),
      )}
    </>
  );
}

/** A number of an axis as it reads with its unit. */
const sizeWords = (choice: SizeChoice): string =>
  `${digitsFor(choice, presentOf(choice))} ${prettyUnit(choice.handle.unit)}`.replace(" °", "°").trim();

function Bead({ plane, x, y }: { readonly plane: Plane; readonly x: SizeChoice; readonly y: SizeChoice }) {
  const drawing = useRef<SVGGElement>(null);
  const { layout, frame, region: found } = plane;
  const units = [displayScale(found.x.high, found.x.dimension).factor, displayScale(found.y.high, found.y.dimension).factor];
  const present = [presentOf(x), presentOf(y)] as const;
  const part = (value: number, { low, high }: Region["x"]): number => (value - low) / (high - low);
  const place = [part(present[0], found.x), part(present[1], found.y)] as const;
  const chance = chanceAt(found, ...place);
  const isOutside = place.some((value) => value < -1e-9 || value > 1 + 1e-9);
  const [px, py] = layout.place(present[0] / units[0]!, present[1] / units[1]!);
  const holdAt = (first: number, second: number): void =>
    hold({ key: x.handle.key, digits: digitsFor(x, first) }, { key: y.handle.key, digits: digitsFor(y, second) });
  const follow = (event: PointerEvent): void => {
    const box = drawing.current!.ownerSVGElement!.getBoundingClientRect();
    const inside = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));
    const [a, b] = layout.valueAt([
      inside(event.clientX - box.left, frame.left, frame.right),
      inside(event.clientY - box.top, frame.top, frame.base),
    ]);
    holdAt(a * units[0]!, b * units[1]!);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const way = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    const step = ({ handle, perUnit }: SizeChoice): number => (event.shiftKey ? 10 : 1) * 10 ** -handle.decimals * perUnit;
    // keys may come faster than the page is drawn: they read what is held now
    if (way !== undefined) holdAt(presentOf(x) + way[0]! * step(x), presentOf(y) + way[1]! * step(y));
    else if (event.key === "Enter" && isHolding.peek()) void keepHeld();
    else if (event.key === "Escape") letGo();
    else return;
    event.preventDefault();
  };
  if (isOutside)
    return (
      <text class="axis-name" x={frame.right - 8} y={frame.top + 20} text-anchor="end">
        The design lies outside of this map.
      </text>
    );
  const words = `${sizeWords(x)} by ${sizeWords(y)}${Number.isNaN(chance) ? "" : `, about ${inHundred(chance)}`}`;
  const flips = px + 12 + 8 * words.length > frame.right;
  return (
    <g ref={drawing}>
      <path class="way-to-axes" d={`M${frame.left} ${py}H${px}V${frame.base}`} />
      <text
        class="bead-words"
        x={flips ? px - 14 : px + 14}
        y={py + 24 > frame.base ? py - 12 : py + 24}
        text-anchor={flips ? "end" : "start"}
      >
        {words}
      </text>
      <circle
        class="bead bead-both"
        cx={px}
        cy={py}
        r="8"
        tabIndex={0}
        role="slider"
        aria-label={`the design: ${x.name} and ${y.name}`}
        aria-valuenow={present[0] / units[0]!}
        aria-valuetext={words}
        onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
        onPointerMove={(event) => {
          if (event.currentTarget.hasPointerCapture(event.pointerId)) follow(event);
        }}
        onPointerUp={() => void keepHeld()}
        onPointerCancel={letGo}
        onKeyDown={onKeyDown}
        onBlur={() => void keepHeld()}
      />
    </g>
  );
}

function Best({ plane: { layout, parts, frame } }: { readonly plane: Plane }) {
  const { best } = parts;
  if (best === undefined) return null;
  const [x, y] = layout.place(best.x, best.y);
  const flips = x + 100 > frame.right;
  return (
    <>
      <path class="best-cross" d={`M${x - 7} ${y}h14M${x} ${y - 7}v14`} />
      <text
        class="bead-words"
        x={flips ? x - 12 : x + 12}
        y={y - 10 < frame.top ? y + 20 : y - 8}
        text-anchor={flips ? "end" : "start"}
      >
        {best.label}
      </text>
    </>
  );
}

export function RegionMap({ size }: { readonly size: Size }) {
  const frame: RegionFrame = { left: room.left, right: size.width - room.right, top: room.top, base: size.height - room.bottom };
  const { width, height } = size;
  // laid out once for each picture and size, not with every motion of the bead
  const last = useRef<
    { readonly region: Region; readonly width: number; readonly height: number; readonly plane: Plane } | undefined
  >(undefined);
  const found = region.value;
  const pair = useComputed(() => {
    const now = study.value;
    return now === undefined ? undefined : ([choiceOf(now.x), choiceOf(now.y)] as const);
  });
  if (found === undefined) return <p class="quiet no-state">No picture yet.</p>;
  if (last.current?.region !== found || last.current.width !== width || last.current.height !== height) {
    const parts = regionParts(found);
    const layout = layoutRegion(parts, { frame, size: wordSize });
    last.current = { region: found, width, height, plane: { region: found, layout, frame, parts } };
  }
  const { plane } = last.current;
  const [x, y] = pair.value ?? [];
  return (
    <>
      <svg class="region-map" width={width} height={height} role="img" aria-label={`${found.y.name} against ${found.x.name}`}>
        <Ground plane={plane} />
        <Axes plane={plane} />
        <Best plane={plane} />
      </svg>
      {x === undefined || y === undefined ? null : (
        <svg class="region-map hand" width={width} height={height}>
          <title>The design: drag it, or step it with the arrow keys</title>
          <Bead plane={plane} x={x} y={y} />
        </svg>
      )}
    </>
  );
}
