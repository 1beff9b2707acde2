/** The list under the caret: what may be written there, each with what it is. */
import { useEffect, useRef } from "preact/hooks";
import type { Offer } from "#chip";
import type { CompletionHandle } from "./use-completion.ts";

export const completionId = "completion";
export const offerId = (place: number): string => `completion-${place}`;

/** Where the line of the caret stands in its editor, [px]. */
export interface CaretPlace {
  readonly x: number;
  readonly y: number;
  readonly lineHeight: number;
  readonly height: number;
}

/** Height that the list takes at most, [px]; it opens upward where there is less below. */
const tallest = 280;

function Row({ offer, place, list }: { readonly offer: Offer; readonly place: number; readonly list: CompletionHandle }) {
  const isActive = list.active.value === place;
  const row = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (isActive) row.current?.scrollIntoView({ block: "nearest" });
  }, [isActive]);
  return (
    <button
      type="button"
      ref={row}
      id={offerId(place)}
      role="option"
      aria-selected={isActive}
      tabIndex={-1}
      // the caret stays in the text
      onPointerDown={(event) => event.preventDefault()}
      onClick={() => list.take(offer)}
    >
      <span class="offer-text">{offer.text}</span>
      {offer.example === undefined ? null : <span class="offer-example">{offer.example}</span>}
      <span class="offer-about">{offer.about}</span>
    </button>
  );
}

export function CompletionList({ list, at }: { readonly list: CompletionHandle; readonly at: CaretPlace }) {
  const found = list.found.value;
  if (found === undefined) return null;
  const below = at.height - at.y - at.lineHeight;
  const isUp = below < tallest && at.y > below;
  const room = Math.max(120, Math.min(tallest, isUp ? at.y : below));
  const style = {
    left: `min(${Math.round(at.x)}px, 100% - min(400px, 100%))`,
    maxHeight: `${Math.round(room)}px`,
    ...(isUp ? { bottom: `${Math.round(at.height - at.y)}px` } : { top: `${Math.round(at.y + at.lineHeight)}px` }),
  };
  return (
    <div class="completion" style={style}>
      <p class="wanted">{found.offers.length === 0 ? `Nothing known begins so. Wanted: ${found.wanted}.` : found.wanted}</p>
      <div id={completionId} role="listbox" aria-label="What may stand here">
        {found.offers.map((offer, place) => (
          <Row key={`${offer.kind} ${offer.text}`} offer={offer} place={place} list={list} />
        ))}
      </div>
    </div>
  );
}
