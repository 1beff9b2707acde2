/** Entry of the page. */
import { render } from "preact";
import { type ChipStore, serverStore, storeWithoutServer } from "#browser";
import { newChipText, titleOfChipText } from "#chip";
import { App } from "./app.tsx";
import { start } from "./state/workbench.ts";

/** The single file carries the text of its workers; a page from a server fetches it. */
function createWorker(): Worker {
  const carried = document.getElementById("worker")?.textContent;
  if (carried === undefined || carried === null) return new Worker(new URL("./worker.js", import.meta.url), { type: "module" });
  return new Worker(URL.createObjectURL(new Blob([carried], { type: "text/javascript" })));
}

/**
 * The server puts its token into the fragment of the address. It leaves the address at once and stays in this tab, so that neither a
 * copied address nor a picture of the screen gives it away.
 */
function takeToken(): string | undefined {
  const key = "waferwright token";
  const found = /[#&]token=([\w-]+)/.exec(location.hash)?.[1];
  if (found === undefined) return location.protocol === "file:" ? undefined : (sessionStorage.getItem(key) ?? undefined);
  sessionStorage.setItem(key, found);
  history.replaceState(null, "", location.hash.replace(/&?token=[\w-]+/, ""));
  return found;
}

function chooseStore(): ChipStore {
  const token = takeToken();
  if (token !== undefined) return serverStore(token);
  const texts = new Map(Object.entries(builtInChips));
  return storeWithoutServer({ texts, newText: newChipText, titleOf: titleOfChipText });
}

render(<App />, document.getElementById("page")!);
void start({ store: chooseStore(), createWorker });
