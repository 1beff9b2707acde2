/** What stands below the picture of the device: from where it is seen, at what scale, and the choices of how it is shown. */
import { svgOfScene } from "#picture";
import type { Span } from "../draw/draw-device.ts";
import { type LoupeView, loupeScene, tableOfLoupe } from "../draw/loupe-scene.ts";
import { tableOfView } from "../draw/tables.ts";
import type { Window } from "../draw/window.ts";
import { needsIsolines, showsIsolines, wantsIsolines } from "../state/isolines.ts";
import { lit } from "../state/lit.ts";
import { tokensNow } from "../state/mode.ts";
import { answer, caseName, device, exaggeration, lookAt, pictureOfDevice, summary } from "../state/workbench.ts";
import { ScaleBar, TimesLarger } from "./figure-words.tsx";
import { SaveWords } from "./save-words.tsx";
import { temperatureText } from "./scale-bar.ts";
import { LoupeChoice, wordsOfLoupe } from "./use-loupe.tsx";

export interface Shown {
  readonly window: Window;
  readonly span: Span;
}

export const motionWords = (): string =>
  exaggeration.value === 1 ? "true scale" : `true scale, motion drawn ${exaggeration.value} times as large`;

/** Saves the loupe where there is one, else the whole picture. */
function Saving({ loupe }: { readonly loupe: LoupeView | undefined }) {
  const view = answer.value?.view;
  if (loupe !== undefined)
    return (
      <SaveWords
        name={`${device.value} in the loupe`}
        what="the loupe"
        svg={() =>
          svgOfScene(loupeScene(loupe), {
            title: `${summary.value?.title ?? ""}, ${device.value} in the loupe`,
            caption: wordsOfLoupe(loupe),
            tokens: tokensNow.value,
          })
        }
        csv={() => tableOfLoupe(loupe)}
      />
    );
  if (view === undefined) return null;
  return (
    <SaveWords
      name={`${device.value} at ${caseName.value}`}
      what="the picture"
      svg={() => pictureOfDevice(tokensNow.value, showsIsolines.value)}
      csv={() => tableOfView(view)}
    />
  );
}

export function DeviceCaption({ shown, loupe }: { readonly shown: Shown | undefined; readonly loupe: LoupeView | undefined }) {
  const span = shown?.span;
  const words = loupe === undefined ? undefined : wordsOfLoupe(loupe);
  return (
    <figcaption>
      <span>
        <strong>Plate 1.</strong> {device.value} as built at {caseName.value}, from above, {motionWords()}.
        {lit.value === undefined ? null : (
          <>
            {" "}
            <em class="part-name" role="status">
              {lit.value}
            </em>
          </>
        )}
      </span>
      {words === undefined ? null : (
        <>
          <span class="found-line" role="status">
            <strong>{words[0]}</strong>
          </span>
          <span class="second-line">{words[1]}</span>
        </>
      )}
      <TimesLarger
        word="motion"
        label="How large motion is drawn"
        factors={[1, 5, 20]}
        chosen={exaggeration.value}
        onChoose={(factor) => lookAt({ exaggeration: factor })}
      />
      {needsIsolines.value || span === undefined || !(span.high - span.low > 1) ? null : (
        <button
          type="button"
          class="choice"
          aria-pressed={wantsIsolines.value}
          onClick={() => {
            wantsIsolines.value = !wantsIsolines.value;
          }}
        >
          lines of equal warmth
        </button>
      )}
      <LoupeChoice />
      <Saving loupe={loupe} />
      <ScaleBar zoom={shown?.window.zoom} />
      {span === undefined || !(span.high - span.low > 1) ? null : (
        <span class="field">
          {temperatureText(span.low)}
          <span class="field-steps" aria-hidden="true">
            {Array.from({ length: 11 }, (_, i) => (
              <span key={i} style={{ background: `var(--ember-${i})` }} />
            ))}
          </span>
          {temperatureText(span.high)} K
        </span>
      )}
    </figcaption>
  );
}
