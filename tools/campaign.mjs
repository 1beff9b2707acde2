/** Runs all campaigns with their full number of cases. Further arguments go to vitest, for example a file name. */

import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const vitest = join("node_modules", "vitest", "vitest.mjs");
const wanted = process.argv.length > 2 ? process.argv.slice(2) : [".campaign.ts"];
const run = spawnSync(process.execPath, [vitest, "run", ...wanted, "--disable-console-intercept"], {
  cwd: root,
  stdio: "inherit",
  env: { ...process.env, CAMPAIGN: "full" },
});
process.exitCode = run.status ?? 1;
