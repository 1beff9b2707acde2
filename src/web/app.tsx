/** The page: the term over it, one view, the ledger under it. */
import { useEffect } from "preact/hooks";
import { Ledger } from "./parts/ledger.tsx";
import { ModeSwitch } from "./parts/mode-switch.tsx";
import { TermLine } from "./parts/term-line.tsx";
import { areOn, letters } from "./state/letters.ts";
import { show, stages, view } from "./state/stage.ts";
import { doAgain, takeBack } from "./state/workbench.ts";
import { BriefView } from "./views/brief-view.tsx";
import { ComingView } from "./views/coming-view.tsx";
import { FolderView } from "./views/folder-view.tsx";
import { PredictView } from "./views/predict-view.tsx";
import { SizeView } from "./views/size-view.tsx";
import { TextView } from "./views/text-view.tsx";

function View() {
  switch (view.value) {
    case "predict":
      return <PredictView />;
    case "brief":
      return <BriefView />;
    case "size":
      return <SizeView />;
    case "text":
      return <TextView />;
    case "folder":
      return <FolderView />;
    default:
      return <ComingView />;
  }
}

const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement;

export function App() {
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent): void => {
      if (isTyping(event.target) || event.altKey) return;
      if (!(event.ctrlKey || event.metaKey)) {
        const letter = areOn.peek() ? letters.find((candidate) => candidate.letter === event.key) : undefined;
        if (letter === undefined) return;
        event.preventDefault();
        letter.run();
        return;
      }
      const key = event.key.toLowerCase();
      if (key === "z" && !event.shiftKey) void takeBack();
      else if ((key === "z" && event.shiftKey) || key === "y") void doAgain();
      else return;
      event.preventDefault();
    };
    globalThis.addEventListener("keydown", onKeyDown);
    return () => globalThis.removeEventListener("keydown", onKeyDown);
  }, []);
  return (
    <div class={`page ${stages.some(({ name }) => name === view.value) ? "stage-view" : "file-view"}`}>
      <svg class="aside-words" aria-hidden="true">
        <pattern id="stipple" width="6" height="6" patternUnits="userSpaceOnUse">
          <circle class="stipple-dot" cx="1.5" cy="1.5" r="0.7" />
          <circle class="stipple-dot" cx="4.5" cy="4.5" r="0.7" />
        </pattern>
      </svg>
      <header class="head">
        <TermLine />
        <div class="head-right">
          <ModeSwitch />
          <div class="files">
            {(["text", "folder"] as const).map((name) => (
              <button
                key={name}
                type="button"
                class="mode"
                aria-current={view.value === name ? "page" : undefined}
                onClick={() => show(name)}
              >
                {name === "text" ? "The text" : "This folder"}
              </button>
            ))}
          </div>
        </div>
      </header>
      <View />
      <Ledger />
    </div>
  );
}
