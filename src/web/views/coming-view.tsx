/** A stage whose part of the program does not exist yet says so, and what one can do meanwhile. */
import { show, stages, view } from "../state/stage.ts";

const meanwhile: Readonly<Record<string, string>> = {
  mask: "Until then, the command line writes the plates of the die as GDSII and as pictures.",
};

export function ComingView() {
  const stage = stages.find(({ name }) => name === view.value);
  return (
    <main class="coming">
      <h1>{stage?.name ?? view.value}</h1>
      <p class="paragraph">{stage?.about}</p>
      <p class="paragraph">This part of the program does not exist yet. {meanwhile[view.value] ?? ""}</p>
      <button type="button" class="button" onClick={() => show("predict")}>
        Back to the device
      </button>
    </main>
  );
}
