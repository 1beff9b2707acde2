/** What stands beside the prose, one plate at a time: the device at true scale, or what it does along its drive and in time. */
import { picture, showPicture } from "../state/workbench.ts";
import { CurvesFrame } from "./curves-frame.tsx";
import { DeviceFrame } from "./device-frame.tsx";

const plates = [
  ["device", "the device"],
  ["curves", "what it does"],
] as const;

export function PictureFrame() {
  return (
    <figure class="plate">
      {picture.value === "device" ? <DeviceFrame /> : <CurvesFrame />}
      <fieldset class="choices plates" aria-label="Plate in view">
        {plates.map(([name, words]) => (
          <button key={name} type="button" class="choice" aria-pressed={picture.value === name} onClick={() => showPicture(name)}>
            {words}
          </button>
        ))}
      </fieldset>
    </figure>
  );
}
