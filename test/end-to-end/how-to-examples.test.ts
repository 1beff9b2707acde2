/** The examples of the how-to pages, each put into a chip text as the page says, read as they stand. */
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { isMap, parseDocument } from "yaml";
import { openChip } from "#chip";

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const read = (path: string): string => readFileSync(join(root, path), "utf8").replaceAll("\r\n", "\n");

function snippetsOf(path: string): readonly string[] {
  return [...read(path).matchAll(/^```yaml\n([\s\S]*?)^```/gm)].map((match) => match[1]!);
}

/** The text with the entries of a snippet in place of those of the same name. */
function withSnippet(text: string, snippet: string, within: readonly string[] = []): string {
  const document = parseDocument(text);
  const changes = parseDocument(snippet).contents;
  if (!isMap(changes)) throw new RangeError("Cannot use the snippet: wanted named sections, found something else");
  for (const { key, value } of changes.items) document.setIn([...within, String(key)], value);
  return document.toString({ lineWidth: 0 });
}

describe("how to write a chip text", () => {
  const base = read("examples/01-one-bent-beam/chip.yaml");
  const snippets = snippetsOf("docs/how-to/write-a-chip-text.md");
  it.each(snippets.map((snippet, i) => [i + 1, snippet] as const))(
    "example %d reads in place of the section of its name",
    (_, snippet) => {
      expect(openChip(withSnippet(base, snippet), { file: "page.yaml" }).names.devices).toEqual(["pusher"]);
    },
  );
});

describe("how to compose a device", () => {
  const gripper = read("examples/06-bent-beam-gripper/chip.yaml");
  const leafgate = read("examples/02-leafgate/chip.yaml");
  const snippets = snippetsOf("docs/how-to/compose-a-device.md");
  const own = (snippet: string): readonly string[] =>
    /^(brief|drive):/.test(snippet) ? [] : ["devices", snippet.startsWith("light:") ? "shutter" : "tweezers"];
  it("prints the gripper in four pieces, and the light of Leafgate", () => {
    expect(snippets.filter((snippet) => own(snippet).length > 0)).toHaveLength(5);
  });
  it.each(snippets.map((snippet, i) => [i + 1, snippet] as const))("example %d says what the example chip says", (_, snippet) => {
    const within = own(snippet);
    const text = snippet.startsWith("light:") ? leafgate : gripper;
    const chip = openChip(within.length === 0 ? withSnippet(text, snippet) : text, { file: "page.yaml" });
    expect(chip.names.devices).toHaveLength(1);
    // every line of a device stands in the example as it is printed, but for indentation
    const lines = text.split("\n").map((line) => line.trim());
    if (within.length > 0) for (const line of snippet.trim().split("\n")) expect(lines, line).toContain(line.trim());
  });
});

it("ARCHITECTURE prints code as it stands in the sources", () => {
  const blocks = [...read("ARCHITECTURE.md").matchAll(/^```ts\n([\s\S]*?)^```/gm)].map((match) => match[1]!);
  const sources = read("src/devices/families/straight-bar.ts") + read("src/devices/parts/idealised.ts");
  expect(blocks).toHaveLength(2);
  for (const block of blocks) expect(sources).toContain(block);
});
