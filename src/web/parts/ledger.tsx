/**
 * The ledger under every view: what must hold, one rail a limit. Under the device it stands in full, under every other view folded to
 * one row of short rails. Where there are more limits than room, the least certain stay in sight.
 */
import { useSignal } from "@preact/signals";
import { useRef } from "preact/hooks";
import { scaleOf } from "#picture";
import type { Rail } from "#workbench";
import { show, view } from "../state/stage.ts";
import { answer, ghost, isHolding, summary } from "../state/workbench.ts";
import { LedgerHeading } from "./ledger-heading.tsx";
import { LedgerNews } from "./ledger-news.tsx";
import { isSnapped, RailLine, type RailScale } from "./rail.tsx";
import { useSize } from "./use-size.ts";
import { WhyPanel } from "./why-panel.tsx";

/** Rails in sight. */
const nInSight = 8;

const marginOf = (rail: Rail): number => rail.built?.margin ?? Number.POSITIVE_INFINITY;
const keyOf = (rail: Rail): string => `${rail.requirement}.${rail.limitIndex}`;

/** The least certain rails; what is certain comes in by how near it stands to its limit. */
function leastCertain(rails: readonly Rail[]): ReadonlySet<string> {
  const doubt = (rail: Rail): number => rail.chanceNumber ?? 2;
  return new Set(
    [...rails]
      .sort((a, b) => doubt(a) - doubt(b) || marginOf(a) - marginOf(b))
      .slice(0, nInSight)
      .map(keyOf),
  );
}

/** What a screen reader hears of a rail. */
const spoken = (rail: Rail): string =>
  [rail.of, rail.limit, rail.value === "" ? "not yet computed" : `as built ${rail.value}`, rail.verdict, rail.chance]
    .filter((word) => word !== "")
    .join(", ");

function Verdict({ rail }: { readonly rail: Rail }) {
  return (
    <span class={`rail-verdict${isSnapped(rail) ? " fail" : ""}`}>
      <strong>{rail.verdict}</strong>
      {rail.chance === "" ? "" : `, ${rail.chance}`}
    </span>
  );
}

/** What moves a rail, strongest first, and why it is asked for. */
function Why({ rail }: { readonly rail: Rail }) {
  const causes = rail.shares.slice(0, 4).map(({ cause, share }) => `${cause.replaceAll(".", " ")} ${(100 * share).toFixed(0)} %`);
  return (
    <div class="why">
      {rail.why === undefined ? null : <p>Asked for because: {rail.why}.</p>}
      {rail.reason === undefined ? null : <p>It has no value: {rail.reason}.</p>}
      {causes.length === 0 ? null : <p>Its doubt as built comes from {causes.join(", ")}.</p>}
      {rail.metric === undefined ? null : <WhyPanel rail={rail} />}
    </div>
  );
}

function FullRails({ shown, all }: { readonly shown: readonly Rail[]; readonly all: readonly Rail[] }) {
  const opened = useSignal<string | undefined>(undefined);
  const { size, element } = useSize<HTMLDivElement>();
  const scale: RailScale = { width: size.value.width, ...scaleOf(all) };
  const before = new Map((ghost.value ?? []).map((rail) => [keyOf(rail), rail]));
  const fence = (100 * (0 - scale.low)) / (scale.high - scale.low);
  return (
    <>
      <div class="rail-row ruler-row" aria-hidden="true">
        <div ref={element} class="ruler">
          <span class="short-of" style={{ right: `${100 - fence}%` }}>
            short of the limit
          </span>
          <span class="clear-of" style={{ left: `${fence}%` }}>
            clear of the limit
          </span>
        </div>
      </div>
      <ul class="rails">
        {shown.map((rail) => (
          <li key={keyOf(rail)}>
            <button
              type="button"
              class="rail-row"
              aria-expanded={opened.value === keyOf(rail)}
              onClick={() => {
                opened.value = opened.value === keyOf(rail) ? undefined : keyOf(rail);
              }}
            >
              <span class="rail-name">{rail.of}</span>
              <span class="rail-limit" title={rail.limit}>
                {rail.limit}
              </span>
              <RailLine rail={rail} before={before.get(keyOf(rail))} scale={scale} />
              <span class="rail-value">
                <span class="aside-words">as built </span>
                {rail.value === "" ? "not yet computed" : rail.value}
              </span>
              <Verdict rail={rail} />
            </button>
            {opened.value === keyOf(rail) ? <Why rail={rail} /> : null}
          </li>
        ))}
      </ul>
    </>
  );
}

function ShortRail({ rail, range }: { readonly rail: Rail; readonly range: Omit<RailScale, "width"> }) {
  const { size, element } = useSize<HTMLSpanElement>();
  return (
    <li title={spoken(rail)}>
      <span class="rail-name">{rail.of}</span>
      <span class="short-line" ref={element}>
        <RailLine rail={rail} before={undefined} scale={{ width: size.value.width, ...range }} />
      </span>
      <Verdict rail={rail} />
    </li>
  );
}

function ShortRails({ shown, all }: { readonly shown: readonly Rail[]; readonly all: readonly Rail[] }) {
  const range = scaleOf(all);
  return (
    <ul class="short-rails">
      {shown.map((rail) => (
        <ShortRail key={keyOf(rail)} rail={rail} range={range} />
      ))}
    </ul>
  );
}

/** A ledger without requirements says what it is for and where to begin. */
function NothingYet() {
  return (
    <section class="ledger" aria-label="What must hold">
      <LedgerHeading more={null} />
      <p class="nothing-yet">
        Nothing must hold yet. Say what the chip is for, and every change answers here with its margin and its chance.{" "}
        {view.value === "brief" ? null : (
          <button type="button" class="link" onClick={() => show("brief")}>
            Write the brief
          </button>
        )}
      </p>
    </section>
  );
}

export function Ledger() {
  const isWhole = useSignal(false);
  const chosen = useRef<ReadonlySet<string>>(new Set());
  const rails = answer.value?.rails ?? [];
  // while a number is held the rails keep their places
  if (!isHolding.value || chosen.current.size === 0) chosen.current = leastCertain(rails);
  const inSight = rails.filter((rail) => chosen.current.has(keyOf(rail)));
  const isFull = view.value === "predict";
  if (rails.length === 0 && summary.value?.brief.length === 0) return <NothingYet />;
  if (rails.length === 0)
    return (
      <footer class="ledger">
        <LedgerNews />
      </footer>
    );
  if (!isFull)
    return (
      <section class="ledger folded" aria-label="What must hold">
        <LedgerNews />
        <ShortRails shown={inSight} all={rails} />
      </section>
    );
  const more =
    rails.length > nInSight ? (
      <button
        type="button"
        class="link"
        aria-expanded={isWhole.value}
        onClick={() => {
          isWhole.value = !isWhole.value;
        }}
      >
        {isWhole.value ? "Show the least certain alone" : `and ${rails.length - inSight.length} more certain`}
      </button>
    ) : null;
  return (
    <section class={`ledger${isWhole.value ? " whole" : ""}`} aria-label="What must hold">
      <LedgerHeading more={more} />
      <FullRails shown={isWhole.value ? rails : inSight} all={rails} />
    </section>
  );
}
