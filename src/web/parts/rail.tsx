/**
 * One rail of the ledger: its axis is the margin to the limit in per cent, so that all fences line up. Hollow ring as drawn, dot with
 * lens as built, diamond measured, broken ring before the last change. What fails is snapped at the fence.
 */
import type { Rail } from "#workbench";

/** Geometry of a rail, [px]. */
export const railLayout = { height: 31, fenceReach: 2, lens: 9, sag: 9 } as const;

export interface RailScale {
  readonly width: number;
  readonly low: number;
  readonly high: number;
}

const fenceOf = ({ width, low, high }: RailScale): number => ((0 - low) / (high - low)) * width;
const upperFenceOf = (scale: RailScale): number => scale.width - 24;

/** Where a margin stands; a limit from both sides has a scale of its own between its fences. */
function placeOf(margin: number, at: { readonly rail: Rail; readonly scale: RailScale }): number {
  const { rail, scale } = at;
  const fence = fenceOf(scale);
  if (rail.twoSided === true) return fence + (margin / 2) * (upperFenceOf(scale) - fence);
  return ((margin - scale.low) / (scale.high - scale.low)) * scale.width;
}

const clamp = (value: number, width: number): number => Math.min(width - 6, Math.max(6, value));
const isOut = (value: number, width: number): boolean => value < 6 || value > width - 6;
const diamondAt = (x: number, y: number): string => `M${x - 6} ${y}L${x} ${y - 6}L${x + 6} ${y}L${x} ${y + 6}Z`;

/** Density of a normal spread out to 2.3 standard deviations, as a lens. */
function lensPath(x: number, at: { readonly half: number; readonly y: number; readonly width: number }): string {
  const points = Array.from({ length: 25 }, (_, i) => -2.3 + (4.6 * i) / 24);
  const edge = (sign: number) =>
    points.map(
      (z) =>
        `${Math.min(at.width, Math.max(0, x + (z / 2.3) * at.half)).toFixed(1)} ${(at.y + sign * railLayout.lens * Math.exp((-z * z) / 2)).toFixed(1)}`,
    );
  return `M${edge(-1).join("L")}L${edge(1).reverse().join("L")}Z`;
}

/** Fails, or nearly so: its line is broken at the fence. */
export const isSnapped = ({ verdict }: Rail): boolean => verdict === "fails" || verdict === "doubtful";

function line(rail: Rail, scale: RailScale): string {
  const y = railLayout.height / 2;
  const fence = fenceOf(scale);
  if (isSnapped(rail))
    return `M0 ${y}L${fence - 14} ${y + railLayout.sag - 1}l4 -4l2 6l4 -3M${fence + 4} ${y - 5}l3 4l2 -3l4 4H${scale.width}`;
  const crack = `H${fence - 9}l3 -6l4 12l4 -12l4 12l3 -6`;
  return `M0 ${y}${rail.verdict === "open" ? crack : ""}H${scale.width}`;
}

export function RailLine({ rail, before, scale }: { rail: Rail; before: Rail | undefined; scale: RailScale }) {
  const y = railLayout.height / 2;
  const at = { rail, scale };
  const { width } = scale;
  const snapped = isSnapped(rail);
  const isOpenEnded = rail.verdict === "not yet computed" || rail.verdict === "to test";
  const [built, drawn, measured, ghost] = [rail.built, rail.drawn, rail.measured, before?.built].map((mark) =>
    mark === undefined || !Number.isFinite(mark.margin) ? undefined : placeOf(mark.margin, at),
  );
  const half =
    rail.built?.sigma === undefined ? 0 : Math.abs(placeOf(rail.built.margin + 2.3 * rail.built.sigma, at) - (built ?? 0));
  const hasMoved = ghost !== undefined && built !== undefined && Math.abs(ghost - built) > 1;
  const classes = ["rail-line", snapped && "snapped", (isOpenEnded || rail.isStale) && "dotted"].filter(Boolean).join(" ");
  return (
    <svg width={width} height={railLayout.height} aria-hidden="true">
      <rect x="0" y="0" width={Math.max(0, fenceOf(scale))} height={railLayout.height} class="ground" fill="url(#stipple)" />
      {rail.twoSided === true ? (
        <rect
          x={upperFenceOf(scale)}
          y="2"
          width={width - upperFenceOf(scale)}
          height={railLayout.height - 4}
          class="ground"
          fill="url(#stipple)"
        />
      ) : null}
      <path d={line(rail, scale)} class={classes} />
      <path
        d={`M${fenceOf(scale)} 0V${snapped ? 5 : railLayout.height}${snapped ? `M${fenceOf(scale)} ${railLayout.height - 4}v4` : ""}M${fenceOf(scale) - 4} 0h8`}
        class="fence"
      />
      {rail.twoSided === true ? <path d={`M${upperFenceOf(scale)} 2V${railLayout.height - 2}`} class="fence" /> : null}
      {isOpenEnded ? null : (
        <>
          {built === undefined || half < 1 ? null : <path d={lensPath(clamp(built, width), { half, y, width })} class="lens" />}
          {hasMoved ? <circle cx={clamp(ghost, width)} cy={y} r="5" class="before" /> : null}
          {hasMoved && Math.abs(ghost - built) >= 18 ? (
            <path d={`M${clamp(ghost, width)} ${y}H${clamp(built, width) - Math.sign(built - ghost) * 7}`} class="way" />
          ) : null}
          {drawn === undefined ? null : <circle cx={clamp(drawn, width)} cy={y} r="5" class="as-drawn" />}
          {measured === undefined ? null : <path d={diamondAt(clamp(measured, width), y)} class="measured-mark" />}
          {built === undefined ? null : isOut(built, width) ? (
            <path d={built > width ? `M${width - 10} ${y - 6}l9 6l-9 6Z` : `M10 ${y - 6}l-9 6l9 6Z`} class="as-built" />
          ) : (
            <circle cx={built} cy={y} r="5.5" class="as-built" />
          )}
        </>
      )}
    </svg>
  );
}
