/** Which chip is open, and opening another: files, not dialogs. */
import { useSignal } from "@preact/signals";
import { areOn, letters } from "../state/letters.ts";
import { folder, folders, openFolder, openPath, storeKind, text } from "../state/workbench.ts";

/** What opening and beginning are, by where chips are kept. */
const wordsOf = {
  server: {
    heading: "Another folder",
    about: "A chip is a folder with a chip.yaml. Every change here is saved there at once.",
    open: "Open it",
    begin: "Begin it in that folder",
  },
  disk: {
    heading: "A folder of the disk",
    about:
      "The browser asks which folder, and whether this page may write there. Every change here is saved in its chip.yaml at once.",
    open: "Open a folder\u2026",
    begin: "Begin it in a folder\u2026",
  },
  memory: {
    heading: "A file of the disk",
    about:
      "This browser lets no page write to the disk: a chip.yaml is read into this page, and goes back as a copy that you save below.",
    open: "Open a file\u2026",
    begin: "Begin it here",
  },
} as const;

export function FolderView() {
  const words = wordsOf[storeKind.value];
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
      <h2>{words.heading}</h2>
      <p class="quiet">{words.about}</p>
      <p>
        {storeKind.value === "server" ? (
          <label>
            Folder{" "}
            <input
              value={path.value}
              onInput={(event) => {
                path.value = event.currentTarget.value;
              }}
            />
          </label>
        ) : null}{" "}
        <button type="button" class="button" onClick={() => void attempt(false)}>
          {words.open}
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
          {words.begin}
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
