/**
 * Minus and plus for the number that was touched last, large enough for gloves; shown where the pointer is coarse. Steps are kept
 * together: a pause after the last one writes them as one change.
 */
import { useEffect, useRef } from "preact/hooks";
import { chosen, heldDigits, hold, keepHeld } from "../state/workbench.ts";
import { prettyUnit, stepped } from "./number-text.ts";

/** Pause after which steps are kept [ms]. */
const pause = 900;

export function Stepper() {
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const handle = chosen.value;
  useEffect(() => () => clearTimeout(timer.current), []);
  if (handle === undefined) return null;
  const digits = heldDigits(handle.key) ?? handle.digits;
  const step = (steps: number): void => {
    const next = stepped(digits, { steps, ...handle });
    hold({ key: handle.key, digits: next });
    chosen.value = { ...handle, digits: next };
    clearTimeout(timer.current);
    timer.current = setTimeout(() => void keepHeld(), pause);
  };
  const unit = prettyUnit(handle.unit);
  return (
    <div class="stepper">
      <button type="button" class="button step" aria-label={`${handle.name} down`} onClick={() => step(-1)}>
        <svg width="24" height="24" aria-hidden="true">
          <path d="M5 12H19" class="step-sign" />
        </svg>
      </button>
      <span>
        {handle.name} <strong>{digits}</strong> {unit}
      </span>
      <button type="button" class="button step" aria-label={`${handle.name} up`} onClick={() => step(1)}>
        <svg width="24" height="24" aria-hidden="true">
          <path d="M5 12H19M12 5V19" class="step-sign" />
        </svg>
      </button>
    </div>
  );
}
