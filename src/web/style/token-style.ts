/** The colours of the house as custom properties of the page; written into the style sheet when the page is built. */
import { amber, night, paper, type Tokens } from "#picture";

const modes = { paper, night, amber } as const;

function properties(tokens: Tokens): string {
  return Object.entries(tokens)
    .flatMap(([name, value]) =>
      typeof value === "string"
        ? [`--${name}: ${value};`]
        : (value as readonly string[]).map((colour, i) => `--ember-${i}: ${colour};`),
    )
    .join(" ");
}

/** Arrow of the pointer: the system's own is white, which Amber must not be. */
const arrow = ({ ink, stock }: Tokens): string =>
  `url("data:image/svg+xml,${encodeURIComponent(
    `<svg xmlns="http://www.w3.org/2000/svg" width="24" height="24"><path d="M3 2V19L7.5 15L10.5 22L13.5 20.7L10.5 14H17Z" fill="${ink}" stroke="${stock}" stroke-width="1.25"/></svg>`,
  )}") 3 2`;

/** One block for each mode; Paper where none is chosen. */
export function tokenStyle(): string {
  const screen = Object.entries(modes)
    .map(
      ([name, tokens]) =>
        `${name === "paper" ? ":root, " : ""}[data-mode="${name}"] { ${properties(tokens)} --pointer: ${arrow(tokens)}; }`,
    )
    .join("\n");
  // paper is printed on paper, whatever light the screen stands in
  return `${screen}\n@media print { :root, [data-mode] { ${properties(paper)} } }`;
}
