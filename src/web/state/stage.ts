/** The nine stages of the work and the one in view; the address of the page says which. */
import { signal } from "@preact/signals";
import type { StageName } from "#chip";

export interface Stage {
  readonly name: StageName;
  /** What the program does there today. */
  readonly exists: boolean;
  /** What one will do there. */
  readonly about: string;
}

export const stages: readonly Stage[] = [
  { name: "brief", exists: true, about: "What must hold, in numbers, and why." },
  { name: "size", exists: true, about: "Where all limits hold, what limits it, what to trade." },
  { name: "predict", exists: true, about: "The device under the pointer: current, heat, motion, time, light." },
  { name: "mask", exists: false, about: "Plates ready to order." },
  { name: "drive", exists: false, about: "The controller that exposes, holds, protects." },
  { name: "fab", exists: false, about: "The run sheet: targets, times, hold points, cautions." },
  { name: "inspect", exists: false, about: "What came out, measured in pictures." },
  { name: "bench", exists: false, about: "The wiring, the safe ramp, the sweep." },
  { name: "explain", exists: false, about: "The parameters that explain the data, and the report." },
];

/** Views besides the stages: the text itself and the folder. */
export const furtherViews = ["text", "folder"] as const;

const known = new Set<string>([...stages.map(({ name }) => name), ...furtherViews]);
const fromAddress = (): string => {
  const word = decodeURIComponent(location.hash.replace(/^#/, "").split("&")[0] ?? "");
  return known.has(word) ? word : "predict";
};

export const view = signal(fromAddress());

export function show(name: string): void {
  view.value = name;
  history.replaceState(null, "", `#${name}`);
}

globalThis.addEventListener("hashchange", () => {
  view.value = fromAddress();
});
