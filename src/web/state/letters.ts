/** Letters as commands: they work where no text is being typed, and can be turned off; kept in this browser alone. */
import { effect, signal } from "@preact/signals";
import { toggleLoupe } from "./layers.ts";
import { mode, modes } from "./mode.ts";
import { show } from "./stage.ts";
import { picture, showPicture } from "./workbench.ts";

const key = "waferwright letters";

function kept(): boolean {
  try {
    return localStorage.getItem(key) !== "off";
  } catch {
    return true;
  }
}

export const areOn = signal(kept());

effect(() => {
  try {
    localStorage.setItem(key, areOn.value ? "on" : "off");
  } catch {
    // a browser that keeps nothing has them on again next time
  }
});

const focusOn = (selector: string): void => document.querySelector<HTMLElement>(selector)?.focus();

export interface Letter {
  readonly letter: string;
  readonly about: string;
  readonly run: () => void;
}

export const letters: readonly Letter[] = [
  { letter: "l", about: "to what must hold", run: () => focusOn(".rails button") },
  { letter: "n", about: "to the first number", run: () => focusOn(".live[tabindex]") },
  { letter: "p", about: "to the picture", run: () => focusOn(".plate canvas, .plate .bead") },
  {
    letter: "o",
    about: "the loupe over the picture, and away",
    run: () => {
      if (picture.value !== "device") showPicture("device");
      toggleLoupe();
      focusOn(".plate canvas");
    },
  },
  { letter: "t", about: "to the stages of the term", run: () => focusOn(".stage[aria-current], .stage") },
  {
    letter: "m",
    about: "to the next light: Paper, Night, Amber",
    run: () => {
      mode.value = modes[(modes.indexOf(mode.value) + 1) % modes.length]!;
    },
  },
  { letter: "?", about: "to this list", run: () => show("folder") },
];
