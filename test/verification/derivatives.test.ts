/**
 * Derivatives of every metric of the briefs by every cause of doubt: first-order answers of the model against central differences of
 * full solutions. The differences stand at a hundredth of a standard deviation, as close as light through slits is straight: its own curvature and
 * the stopping of the solvers are worth a few parts in a thousand.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type Chip, estimateSide, type MetricRequest, openChip } from "#chip";

const examples = join(import.meta.dirname ?? "", "../../examples");

function requestsOf(chip: Chip): MetricRequest[] {
  const { scope } = chip.side("drawn");
  return chip.requirements.flatMap((requirement) =>
    requirement.limits.flatMap(({ metric, device, caseName, where, argument, place }) => {
      if (metric === undefined) return [];
      const value = argument === undefined ? undefined : scope.evaluatePhrase(argument, { place, name: metric.word }).value;
      return [{ metric, device, caseName, where, argument: value }];
    }),
  );
}

const part = 0.01;

describe.each(["01-one-bent-beam", "02-leafgate"])("%s", (name) => {
  const chip = openChip(readFileSync(join(examples, name, "chip.yaml"), "utf8"), { file: "chip.yaml" });
  const requests = requestsOf(chip);
  const { model, causes, estimates } = estimateSide(chip, "drawn", { requests, doubt: true });
  it("has causes of doubt and metrics", () => {
    expect(causes.size).toBeGreaterThan(5);
    expect(requests.length).toBeGreaterThan(2);
  });
  it.each([...causes.keys()])("by %s", (cause) => {
    const at = (z: number) => chip.side("drawn", { deviations: new Map([[cause, z]]), near: model });
    const [up, down] = [at(part), at(-part)];
    requests.forEach((request, i) => {
      const difference = (up.valueOf(request).value - down.valueOf(request).value) / (2 * part);
      const { shifts } = estimates[i]!;
      const largest = Math.max(...[...shifts.values()].map(Math.abs));
      const found = shifts.get(cause) ?? 0;
      expect(Math.abs(found - difference), `${request.metric.word} at ${request.caseName ?? ""}`).toBeLessThan(
        // light against offset is made of straight pieces, which a step of either kind may straddle
        0.01 * Math.abs(difference) + (request.metric.word.startsWith("light") ? 0.03 : 0.004) * largest,
      );
    });
  });
});
