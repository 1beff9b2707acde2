/** What stands beside the prose, one plate at a time: the device at true scale, what it does along its drive and in time, how it swings, its layers. */
import { picture, showPicture } from "../state/workbench.ts";
import { CurvesFrame } from "./curves-frame.tsx";
import { DeviceFrame } from "./device-frame.tsx";
import { ModesFrame } from "./modes-frame.tsx";
import { StackFrame } from "./stack-frame.tsx";

const plates = [
  ["device", "the device"],
  ["curves", "what it does"],
  ["modes", "how it swings"],
  ["stack", "its layers"],
] as const;

function Plate() {
  switch (picture.value) {
    case "device":
      return <DeviceFrame />;
    case "curves":
      return <CurvesFrame />;
    case "modes":
      return <ModesFrame />;
    case "stack":
      return <StackFrame />;
  }
}

export function PictureFrame() {
  return (
    <figure class="plate">
      <fieldset class="choices plates" aria-label="Plate in view">
        {plates.map(([name, words]) => (
          <button key={name} type="button" class="choice" aria-pressed={picture.value === name} onClick={() => showPicture(name)}>
            {words}
          </button>
        ))}
      </fieldset>
      <Plate />
    </figure>
  );
}
