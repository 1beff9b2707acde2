/** One thing that may be written at the caret. */
export interface Offer {
  readonly kind: "field" | "word" | "name" | "unit" | "example";
  /** As it is shown. */
  readonly text: string;
  /** As it is written. */
  readonly insert: string;
  /** What it is, in a sentence or a few words. */
  readonly about: string;
  /** A value that would work, for a field. */
  readonly example?: string;
}

/** What may be written at a caret. */
export interface Completion {
  /** What an offer takes the place of, as offsets in the text. */
  readonly from: number;
  readonly to: number;
  /** What is wanted there, in words. */
  readonly wanted: string;
  /** Best first. Those that hold what is written already, if anything is. */
  readonly offers: readonly Offer[];
  /** Whether what is written is one of the offers as it stands. */
  readonly isWhole: boolean;
}

/** How well an offer fits what is written: 0 best; undefined where it does not. */
function rankOf(text: string, written: string): number | undefined {
  const [whole, part] = [text.toLowerCase(), written.toLowerCase()];
  if (whole.startsWith(part)) return 0;
  if (whole.includes(` ${part}`) || whole.includes(`-${part}`)) return 1;
  return whole.includes(part) ? 2 : undefined;
}

/** Those offers that fit what is written, best first, else in their order. */
export function fittingOffers(offers: readonly Offer[], written: string): readonly Offer[] {
  return offers
    .flatMap((offer) => {
      const rank = rankOf(offer.text, written);
      return rank === undefined ? [] : [{ offer, rank }];
    })
    .sort((a, b) => a.rank - b.rank)
    .map(({ offer }) => offer);
}
