/** The library example of the README, extracted and run as it stands. */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));

it("runs and prints a travel", async () => {
  const readme = readFileSync(join(root, "README.md"), "utf8").replaceAll("\r\n", "\n");
  const example = /```ts\n(\/\/ example: readme\n[\s\S]*?)```/.exec(readme)?.[1];
  expect(example).toBeDefined();
  expect(example!.trim().split("\n").length).toBeLessThanOrEqual(24);
  const folder = mkdtempSync(join(root, "test/end-to-end/.readme-"));
  try {
    const library = JSON.stringify(join(root, "src/library/index.ts"));
    writeFileSync(
      join(folder, "example.ts"),
      example!
        .replace(/from "waferwright"/g, `from ${library}`)
        .replaceAll("console.log(", "printed.push(")
        .replace('"leafgate.gds"', JSON.stringify(join(folder, "leafgate.gds")))
        .replace("\n", "\nexport const printed: unknown[] = [];\n"),
    );
    const { printed } = (await import(join(folder, "example.ts"))) as { printed: unknown[] };
    expect(existsSync(join(folder, "leafgate.gds"))).toBe(true);
    expect(printed.join("\n")).toMatch(/µm/);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
