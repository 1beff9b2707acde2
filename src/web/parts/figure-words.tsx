/** Words that several pictures have below them: their scale, and how many times larger something is drawn. */
import { barOf } from "./scale-bar.ts";

/** The bar of a scale in pixels a metre; nothing where there is no picture yet. */
export function ScaleBar({ zoom }: { readonly zoom: number | undefined }) {
  if (zoom === undefined) return null;
  const bar = barOf(zoom);
  return (
    <span class="bar">
      <span class="bar-line" style={{ width: `${bar.pixels}px` }} />
      {bar.text}
    </span>
  );
}

export interface TimesLargerProps {
  /** What is drawn larger, in a word, and the same as a whole for who hears it. */
  readonly word: string;
  readonly label: string;
  readonly factors: readonly number[];
  readonly chosen: number;
  readonly onChoose: (factor: number) => void;
}

export function TimesLarger({ word, label, factors, chosen, onChoose }: TimesLargerProps) {
  return (
    <fieldset class="exaggeration" aria-label={label}>
      {word}
      {factors.map((factor) => (
        <button key={factor} type="button" class="choice" aria-pressed={chosen === factor} onClick={() => onChoose(factor)}>
          × {factor}
        </button>
      ))}
    </fieldset>
  );
}
