/** Findings about temperatures: laws asked outside their range, and limits of the material that are passed. */
import type { Finding } from "#base";
import { checkLawRange } from "#materials";
import { extremeTemperature, type SteadyState } from "#physics";
import type { Conditions } from "../conditions.ts";
import type { BuiltDevice } from "./built-device.ts";
import type { HeatNetwork } from "./heat-network.ts";
import { angleOfBranch, partOfBranch } from "./temperature-results.ts";

interface Model {
  readonly device: BuiltDevice;
  readonly heat: HeatNetwork;
  readonly conditions: Conditions;
}

/** Laws asked outside their range, and limits of the material passed. */
export function findOutsideLaws(model: Model, steady: Pick<SteadyState, "fields">): Finding[] {
  const { conditions } = model;
  const findings: Finding[] = [];
  const seen = new Set<string>();
  steady.fields.forEach((field, branch) => {
    const name = partOfBranch(model, branch);
    const material = conditions.materialAlong(angleOfBranch(model, branch));
    const T = extremeTemperature(field, 1).temperature;
    const { ambient, gas } = conditions;
    for (const [what, law, at] of [
      ["conductivity", material.conductivity, T],
      ["resistivity", material.resistivity, T],
      ["expansion", material.expansion, T],
      ["young modulus", material.youngsModulus, T],
      // the gas is taken at the mean of wall and ambient
      ["conductivity of the gas", gas?.gas.conductivity, (T + ambient) / 2],
    ] as const) {
      const finding = law === undefined || seen.has(what) ? undefined : checkLawRange(law, at, `${name}, ${what}`);
      if (finding === undefined) continue;
      seen.add(what);
      findings.push(finding);
    }
    const limits = material.temperatureLimits;
    if (limits === undefined || T <= limits.warn || seen.has("limits")) return;
    seen.add("limits");
    const stop = T > limits.stop;
    findings.push({
      code: "too-hot",
      severity: stop ? "error" : "warning",
      where: name,
      measured: T,
      limit: stop ? limits.stop : limits.warn,
      unit: "K",
      source: limits.source.key,
      message: `${name} comes to ${T.toFixed(0)} K; above ${(stop ? limits.stop : limits.warn).toFixed(0)} K ${material.name} ${stop ? "softens for certain" : "may take a permanent set"}. Lower the voltage.`,
    });
  });
  return findings;
}
