/** Entry of the page. */
import { render } from "preact";
import { memoryStore } from "#browser";
import { App } from "./app.tsx";
import { start } from "./state/workbench.ts";

/** The single file carries the text of its workers; a page from a server fetches it. */
function createWorker(): Worker {
  const carried = document.getElementById("worker")?.textContent;
  if (carried === undefined || carried === null) return new Worker(new URL("./worker.js", import.meta.url), { type: "module" });
  return new Worker(URL.createObjectURL(new Blob([carried], { type: "text/javascript" })));
}

render(<App />, document.getElementById("page")!);
void start({ store: memoryStore(new Map(Object.entries(builtInChips))), createWorker });
