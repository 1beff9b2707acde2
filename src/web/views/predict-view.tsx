/** The live device: prose with live numbers beside the device at true scale. */
import { PictureFrame } from "../parts/picture-frame.tsx";
import { Problems } from "../parts/problems.tsx";
import { Prose } from "../parts/prose.tsx";
import { summary } from "../state/workbench.ts";

export function PredictView() {
  const found = summary.value;
  return (
    <main class="predict">
      <div class="column">
        <h1>{found?.title ?? "Waferwright"}</h1>
        <p class="subtitle one-line" title={found?.note}>
          {found?.note ?? ""}
        </p>
        <Problems />
        <Prose />
      </div>
      <PictureFrame />
    </main>
  );
}
