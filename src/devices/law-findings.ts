/** Findings about temperatures: laws asked outside their range, and limits of the material that are passed. */
import type { Finding } from "#base";
import { checkLawRange } from "#materials";
import { extremeTemperature, type SteadyState } from "#physics";
import type { Conditions } from "./conditions.ts";
import type { Frame } from "./frame-builder.ts";
import { geometryOf } from "./thermal-network.ts";

/** Laws asked outside their range, and limits of the material passed. */
export function findOutsideLaws(frame: Frame, conditions: Conditions, steady: SteadyState): Finding[] {
  const findings: Finding[] = [];
  const seen = new Set<string>();
  steady.fields.forEach((field, index) => {
    const beam = frame.beams[index]!;
    const material = conditions.materialAlong(geometryOf(frame, beam).angle);
    const T = extremeTemperature(field, 1).temperature;
    for (const [name, law] of [
      ["conductivity", material.conductivity],
      ["resistivity", material.resistivity],
      ["expansion", material.expansion],
    ] as const) {
      const finding = seen.has(name) ? undefined : checkLawRange(law, T, `${beam.name}, ${name}`);
      if (finding === undefined) continue;
      seen.add(name);
      findings.push(finding);
    }
    const { ambient, gas } = conditions;
    for (const [name, law, at] of [
      // the modulus is taken at ambient, the gas at the mean of wall and ambient
      ["young modulus", material.youngsModulus, ambient],
      ["conductivity of the gas", gas?.gas.conductivity, (T + ambient) / 2],
    ] as const) {
      const finding = law === undefined || seen.has(name) ? undefined : checkLawRange(law, at, `${beam.name}, ${name}`);
      if (finding === undefined) continue;
      seen.add(name);
      findings.push(finding);
    }
    const limits = material.temperatureLimits;
    if (limits === undefined || T <= limits.warn || seen.has("limits")) return;
    seen.add("limits");
    const stop = T > limits.stop;
    findings.push({
      code: "too-hot",
      severity: stop ? "error" : "warning",
      where: beam.name,
      measured: T,
      limit: stop ? limits.stop : limits.warn,
      unit: "K",
      source: limits.source.key,
      message: `${beam.name} comes to ${T.toFixed(0)} K; above ${(stop ? limits.stop : limits.warn).toFixed(0)} K ${material.name} ${stop ? "softens for certain" : "may take a permanent set"}. Lower the voltage.`,
    });
  });
  return findings;
}
