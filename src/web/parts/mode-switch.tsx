/** Paper, Night, Amber; the note of Amber says what it can and cannot promise. */
import { mode, modes } from "../state/mode.ts";

const names = { paper: "Paper", night: "Night", amber: "Amber" } as const;

export function ModeSwitch() {
  return (
    <fieldset class="modes" aria-label="Light of the page">
      {modes.map((word) => (
        <button
          key={word}
          type="button"
          aria-pressed={mode.value === word}
          class="mode"
          title={
            word === "amber"
              ? "No blue in our pixels. A white-lit panel still leaks a little. Use the film your bay prescribes."
              : undefined
          }
          onClick={() => {
            mode.value = word;
          }}
        >
          {names[word]}
        </button>
      ))}
    </fieldset>
  );
}
