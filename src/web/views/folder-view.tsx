/** Which chip is open, and opening another: files, not dialogs. */
import { useSignal } from "@preact/signals";
import { areOn, letters } from "../state/letters.ts";
import { folder, folders, openFolder, openPath, text } from "../state/workbench.ts";

export function FolderView() {
  const path = useSignal("");
  const name = useSignal("");
  const problem = useSignal<string | undefined>(undefined);
  const attempt = async (create: boolean): Promise<void> => {
    try {
      await openPath(path.value.trim(), create ? name.value.trim() : undefined);
      problem.value = undefined;
    } catch (error) {
      problem.value = error instanceof Error ? error.message : String(error);
    }
  };
  return (
    <main class="folder">
      <h1>This folder</h1>
      <p class="subtitle">{folder.value?.path ?? folder.value?.name ?? ""}</p>
      <h2>Chips at hand</h2>
      <ul class="folders">
        {folders.value.map((entry) => (
          <li key={entry.id}>
            <button
              type="button"
              class="button"
              aria-current={entry.id === folder.value?.id}
              onClick={() => void openFolder(entry)}
            >
              {entry.title}
            </button>{" "}
            <span class="quiet">{entry.path ?? ""}</span>
          </li>
        ))}
      </ul>
      <h2>Another folder</h2>
      <p>
        <label>
          Folder{" "}
          <input
            value={path.value}
            onInput={(event) => {
              path.value = event.currentTarget.value;
            }}
          />
        </label>{" "}
        <button type="button" class="button" onClick={() => void attempt(false)}>
          Open it
        </button>
      </p>
      <p>
        <label>
          Name of a new chip{" "}
          <input
            value={name.value}
            onInput={(event) => {
              name.value = event.currentTarget.value;
            }}
          />
        </label>{" "}
        <button type="button" class="button" onClick={() => void attempt(true)}>
          Begin it in that folder
        </button>
      </p>
      {problem.value === undefined ? null : (
        <p class="refusal" role="alert">
          {problem.value}
        </p>
      )}
      <h2>Keys</h2>
      <p class="quiet">
        On a number: left and right step it, up and down by ten, digits type over it, Enter keeps, Escape puts back. On the
        picture: arrows walk the parts, + and − zoom, 0 shows the whole. Ctrl Z takes back, Ctrl Y does again. Everywhere else:
      </p>
      <ul class="keys">
        {letters.map(({ letter, about }) => (
          <li key={letter}>
            <kbd>{letter}</kbd> {about}
          </li>
        ))}
      </ul>
      <button
        type="button"
        class="choice"
        aria-pressed={areOn.value}
        onClick={() => {
          areOn.value = !areOn.value;
        }}
      >
        {areOn.value ? "Letters are on" : "Letters are off"}
      </button>
      <h2>The text as a file</h2>
      <p>
        <a class="button" download="chip.yaml" href={`data:application/yaml;charset=utf-8,${encodeURIComponent(text.value)}`}>
          Save a copy
        </a>{" "}
        <button type="button" class="button" onClick={() => globalThis.print()}>
          Print
        </button>
      </p>
    </main>
  );
}
