/** The two ways to take a step in time behind one face: iterated stages to any accuracy, or linear stages where a part in 1e4 will do. */
import type { FrameEquations } from "./frame-equations.ts";
import type { ElectricSource } from "./network.ts";
import { createRosenbrockStepper, takeRosenbrockStep } from "./rosenbrock-step.ts";
import type { StepResult } from "./step-result.ts";
import type { TransientOptions } from "./transient-history.ts";
import { createStepper, takeStep } from "./transient-step.ts";

export interface TimeStepper {
  /** From a consistent state (by entries); undefined where it fails. */
  step(
    begin: Float64Array,
    options: { readonly dt: number; readonly rates: Float64Array; readonly sources: readonly ElectricSource[] },
  ): StepResult | undefined;
  /** The next step begins elsewhere, or under other sources. */
  forget(): void;
}

/** Part of the error allowed in a step that its iterations may leave. */
const newtonTolerance = 1e-3;

export function createTimeStepper(
  equations: FrameEquations,
  options: { readonly stages: NonNullable<TransientOptions["stages"]>; readonly tolerance: number },
): TimeStepper {
  if (options.stages === "linear") {
    const stepper = createRosenbrockStepper(equations);
    return {
      step: (begin, { dt, rates, sources }) => takeRosenbrockStep(stepper, begin, { dt, beginRates: rates, sources }),
      forget: () => {
        stepper.last = undefined;
      },
    };
  }
  const stepper = createStepper(equations);
  const tolerance = newtonTolerance * options.tolerance;
  return {
    step: (begin, { dt, rates, sources }) => takeStep(stepper, begin, { dt, beginRates: rates, sources, tolerance }),
    forget: () => {
      stepper.factoredRate = 0;
    },
  };
}
