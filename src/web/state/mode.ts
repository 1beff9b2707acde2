/** Paper, Night or Amber, and whether gloves are worn: kept in this browser alone. */
import { computed, effect, signal } from "@preact/signals";
import { amber, night, paper, type Tokens } from "#picture";

export const modes = ["paper", "night", "amber"] as const;
export type Mode = (typeof modes)[number];

const tokensOfMode: Readonly<Record<Mode, Tokens>> = { paper, night, amber };

const isMode = (word: string | undefined): word is Mode => modes.includes(word as Mode);

const chosen = document.documentElement.dataset.mode;
export const mode = signal<Mode>(isMode(chosen) ? chosen : "paper");

/** The page is on its way to paper. */
export const isPrinting = signal(false);
globalThis.addEventListener("beforeprint", () => {
  isPrinting.value = true;
});
globalThis.addEventListener("afterprint", () => {
  isPrinting.value = false;
});

/** Colours of what is drawn now: those of the mode, on paper those of Paper. */
export const tokensNow = computed<Tokens>(() => (isPrinting.value ? paper : tokensOfMode[mode.value]));

effect(() => {
  document.documentElement.dataset.mode = mode.value;
  try {
    localStorage.setItem("waferwright mode", mode.value);
  } catch {
    // a browser that keeps nothing still shows the mode until it is closed
  }
});
