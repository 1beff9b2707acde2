/** The nine stages of the work and the one in view; the address of the page says which. */
import { signal } from "@preact/signals";

export interface Stage {
  readonly name: string;
  /** First and last week of the usual plan, of fourteen. */
  readonly weeks: readonly [from: number, to: number];
  /** What the program does there today. */
  readonly exists: boolean;
  /** What one will do there. */
  readonly about: string;
}

export const nWeeks = 14;

export const stages: readonly Stage[] = [
  { name: "brief", weeks: [0.5, 1.2], exists: true, about: "What must hold, in numbers, and why." },
  { name: "size", weeks: [0.9, 2.8], exists: false, about: "Where all limits hold, what limits it, what to trade." },
  { name: "predict", weeks: [1.5, 4], exists: true, about: "The device under the pointer: current, heat, motion, time, light." },
  { name: "mask", weeks: [2.9, 5], exists: false, about: "Plates ready to order." },
  { name: "drive", weeks: [4.1, 7], exists: false, about: "The controller that exposes, holds, protects." },
  { name: "fab", weeks: [5.7, 8.9], exists: false, about: "The run sheet: targets, times, hold points, cautions." },
  { name: "inspect", weeks: [7.5, 9.6], exists: false, about: "What came out, measured in pictures." },
  { name: "bench", weeks: [9.1, 11.9], exists: false, about: "The wiring, the safe ramp, the sweep." },
  { name: "explain", weeks: [10.5, 14], exists: false, about: "The parameters that explain the data, and the report." },
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
