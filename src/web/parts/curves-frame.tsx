/** The device along its drive and in time, beside the prose: up to four linked plots whose bead is one operating point. */
import { numberFrom } from "#chip";
import { linePlot } from "#picture";
import type { CurvePlot } from "#workbench";
import { tableOfPlot } from "../draw/tables.ts";
import { tokensNow } from "../state/mode.ts";
import { plots } from "../state/pictured.ts";
import { answer, caseName, device, heldDigits, summary } from "../state/workbench.ts";
import { CurvePlotPanel, limitsOn } from "./curve-plot.tsx";
import { SaveWords } from "./save-words.tsx";
import { useSize } from "./use-size.ts";

const gap = 12;

/** The drive and the metric of a plot as they stand now; the drive may be in hand. */
function nowOf(plot: CurvePlot): { readonly x: number; readonly y: number } | undefined {
  if (plot.handle === undefined) return undefined;
  const digits = heldDigits(plot.handle.key) ?? plot.handle.digits;
  const found = answer.value?.answers.find(({ word }) => word === plot.metric);
  return { x: numberFrom(digits) * plot.perDigit, y: (found?.value ?? Number.NaN) / plot.y.factor };
}

function svgOfPlot(plot: CurvePlot): string {
  const limits = limitsOn(plot, { rails: answer.value?.rails ?? [], caseName: caseName.value });
  return linePlot({
    title: `${summary.value?.title ?? ""}, ${device.value}: ${plot.title}`,
    x: plot.x,
    y: plot.y,
    series: plot.curves.map(({ kind, x, y }) => ({ label: kind, kind, x, y })),
    limits: limits.map(({ value, isLeast }) => ({
      label: isLeast ? "at least" : "at most",
      value,
      kind: isLeast ? "at least" : "at most",
    })),
    tokens: tokensNow.value,
  });
}

export function CurvesFrame() {
  const { size, element } = useSize<HTMLDivElement>();
  const shown = plots.value;
  const nColumns = size.value.width > 560 ? 2 : 1;
  const nRows = Math.max(1, Math.ceil(shown.length / nColumns));
  const own = {
    width: Math.floor((size.value.width - gap * (nColumns - 1)) / nColumns),
    height: Math.max(150, Math.floor((size.value.height - gap * (nRows - 1)) / nRows)),
  };
  return (
    <>
      <div ref={element} class="curves" style={{ gap: `${gap}px` }}>
        {size.value.width === 0
          ? null
          : shown.map((plot) => (
              <div key={plot.title} class="curve-panel">
                <CurvePlotPanel
                  plot={plot}
                  size={own}
                  now={nowOf(plot)}
                  limits={limitsOn(plot, { rails: answer.value?.rails ?? [], caseName: caseName.value })}
                />
                <SaveWords
                  name={plot.title}
                  what={`the plot of ${plot.title}`}
                  svg={() => svgOfPlot(plot)}
                  csv={() => tableOfPlot(plot)}
                />
              </div>
            ))}
        {shown.length === 0 ? <p class="quiet">Nothing drives this case, so there is no line to draw.</p> : null}
      </div>
      <figcaption>
        <span>
          <strong>Plate 2.</strong> {device.value} along its drive at {caseName.value}, and in time. Drag the bead.
        </span>
      </figcaption>
    </>
  );
}
