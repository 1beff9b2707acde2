/** Everything that is wrong with the text, each with its line; the last state that read well stays in view. */

import { show } from "../state/stage.ts";
import { problems } from "../state/workbench.ts";

export function Problems() {
  const found = problems.value;
  if (found.length === 0) return null;
  return (
    <div class="problems" role="alert">
      <p>
        {found.length === 1 ? "One thing in the text does not read" : `${found.length} things in the text do not read`}; what you
        see is of before.{" "}
        <button type="button" class="link" onClick={() => show("text")}>
          Show the text
        </button>
      </p>
      <ul>
        {found.map(({ place, message }) => (
          <li key={`${place.line}:${place.column} ${message}`}>
            Line {place.line}: {message}
          </li>
        ))}
      </ul>
    </div>
  );
}
