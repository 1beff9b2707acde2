/** The map of a region with its caption: how far the work is, how sure it is of itself, and the words that save it. */
import { regionPicture, regionTable } from "#chip";
import { tokensNow } from "../../state/mode.ts";
import { endStudy, goOn, isEnded, region, studyRefusal, studyWork } from "../../state/size.ts";
import { summary } from "../../state/workbench.ts";
import { SaveWords } from "../save-words.tsx";
import { useSize } from "../use-size.ts";
import { RegionMap } from "./region-map.tsx";

function Progress() {
  const work = studyWork.value;
  if (studyRefusal.value !== undefined)
    return (
      <span class="refusal" role="alert">
        {studyRefusal.value}
      </span>
    );
  if (isEnded.value)
    return (
      <span>
        Stopped. What was found stays.{" "}
        <button type="button" class="link" onClick={goOn}>
          Work it out
        </button>
      </span>
    );
  if (work !== undefined)
    return (
      <span role="status">
        Working out {work.what}, {work.done} of {work.total}.{" "}
        <button type="button" class="link" onClick={endStudy}>
          Stop
        </button>
      </span>
    );
  return <span>Clear ground keeps all limits. Stippled ground breaks one, or has no answer.</span>;
}

export function RegionFrame() {
  const { size, element } = useSize<HTMLDivElement>();
  const found = region.value;
  return (
    <figure class="plate region">
      <div ref={element} class="region-room">
        {size.value.width === 0 ? null : <RegionMap size={size.value} />}
      </div>
      <figcaption>
        <span>
          <Progress />
        </span>
        {found === undefined ? null : (
          <SaveWords
            name="region"
            what="the map"
            svg={() => regionPicture(found, { chip: summary.value?.title ?? "", tokens: tokensNow.value })}
            csv={() => regionTable(found)}
          />
        )}
      </figcaption>
    </figure>
  );
}
