/** Isolines of a view's temperatures through a window. Main test: ../../picture/isolines.test.ts. */
import type { DeviceView } from "#devices";
import { isolineShapes, type Shape, type Tokens } from "#picture";
import type { Span } from "./draw-device.ts";
import { type Frame, projection, type Window } from "./window.ts";

/** Below this difference there are none, [K]. */
const leastSpan = 1;

export function viewIsolines(
  view: DeviceView,
  at: { readonly span: Span; readonly frame: Frame; readonly window: Window; readonly tokens: Tokens },
): readonly Shape[] {
  const { span, frame, window, tokens } = at;
  if (!(span.high - span.low > leastSpan)) return [];
  const { x, y } = projection(window, frame);
  return isolineShapes(
    {
      ...span,
      unit: "K",
      beams: view.beams.map(({ line, widths, temperatures }) => ({ points: line, widths, values: temperatures })),
      plates: view.bodies.flatMap(({ kind, outlines, field: { from, to, shares, temperatures } }) =>
        kind === "anchor"
          ? []
          : [{ outline: outlines[0]!, from: [from.x, from.y], to: [to.x, to.y], shares, values: temperatures }],
      ),
    },
    { place: (mx, my) => [x(mx), y(my)], width: frame.width, height: frame.height, tokens },
  );
}
