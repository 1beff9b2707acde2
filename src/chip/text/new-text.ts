/** A chip text to begin with, and the name by which a text is listed. */

/** A text with everything that must be there, with values to replace. */
export function newChipText(name: string): string {
  return `chip: ${JSON.stringify(name)}
version: 1

brief: []

surroundings: { gas: air, pressure: 101 kPa, temperature: 298 K }

process:
  flow: silicon on glass, two plates
  silicon thickness: 40 um ± 1 um
  gap under silicon: 10 um ± 0.5 um
  undercut per edge: assumed 0.5 um ± 0.15 um, default of this etch
  bias per edge: 0.5 um
  silicon: { dopant: boron, resistivity: 0.0150 ohm cm ± 10 % }

parameters: {}

devices: {}

drive:
  cases: {}
`;
}

/** Characters of a line in which a title is looked for: looking for its end takes their square, and a hostile line is a million long. */
const longestTitleLine = 1000;

/** A scalar of YAML on one line, without its quotes and the comment behind it. */
function scalarOf(written: string): string {
  const quoted = /^"((?:[^"\\]|\\.)*)"|^'((?:[^']|'')*)'/.exec(written);
  if (quoted?.[2] !== undefined) return quoted[2].replaceAll("''", "'");
  if (quoted?.[1] === undefined) return written.replace(/(?:^|\s+)#.*$/, "").trim();
  try {
    return JSON.parse(quoted[0]) as string;
  } catch {
    return quoted[1];
  }
}

/**
 * The name that a chip text gives to its chip, undefined when it has none. Found without reading the tree: a list of chips shows
 * broken texts too, and at once.
 */
export function titleOfChipText(text: string): string | undefined {
  const written = /^chip:[ \t](.*)$/m.exec(text)?.[1];
  const title = written === undefined ? "" : scalarOf(written.slice(0, longestTitleLine).trim());
  return title === "" ? undefined : title;
}
