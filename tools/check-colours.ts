/** Checks that colours are written in the token file alone: a literal elsewhere would leak blue into Amber. */

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { lineAt, listFiles, type Problem, runCheck } from "./problem.ts";

const tokenFile = "src/picture/tokens.ts";
const folders = ["src/browser", "src/picture", "src/web", "src/workbench"];
/** Hexadecimal colours in quotes, after a colon or a space; colour functions; the names people reach for. */
const colourPattern =
  /(?<=["'`:\s(])#(?:[0-9a-f]{8}|[0-9a-f]{6}|[0-9a-f]{3,4})(?=["'`;\s),])|\b(?:rgba?|hsla?|oklch|oklab|lab|lch|hwb)\(|(?<=["'`:]\s?)\b(?:black|white|red|green|blue|yellow|orange|purple|gr[ae]y|silver|navy|teal)\b(?=["'`;])/gi;

export function checkColours(root: string): Problem[] {
  return listFiles(root, folders, /\.(?:tsx?|js|css|html)$/).flatMap((file) => {
    if (file === tokenFile || /\.test\.tsx?$/.test(file)) return [];
    const text = readFileSync(join(root, file), "utf8");
    return [...text.matchAll(colourPattern)].map((match) => ({
      file,
      line: lineAt(text, match.index),
      message: `Cannot write the colour "${match[0]}" here: wanted a token of ${tokenFile}, found a literal.`,
    }));
  });
}

runCheck(import.meta.url, checkColours);
