/**
 * The one place that installs what the tests need from the operating system and npm cannot bring.
 * Each entry: the commands of which one must exist, the Debian package that brings it, and what needs it.
 */

import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";

/** @type {{ commands: string[], debian: string, need: string }[]} */
const systemPackages = [
  { commands: ["chromium", "chromium-browser"], debian: "chromium", need: "look at the page in a real browser" },
];

/** Path of a program of this name on the search path; undefined where there is none. */
export function findCommand(name) {
  const endings = process.platform === "win32" ? [".exe", ".cmd", ".bat"] : [""];
  return (process.env.PATH ?? "")
    .split(delimiter)
    .flatMap((folder) => endings.map((end) => join(folder, name + end)))
    .find((path) => existsSync(path));
}

/** True when a program of this name is on the search path. */
const hasCommand = (name) => findCommand(name) !== undefined;

/** Installs what is missing where that is possible (root, Debian). Returns a sentence for each package that stays missing. */
export function installSystemPackages(wanted = systemPackages) {
  const isMissing = (entry) => !entry.commands.some(hasCommand);
  const missing = wanted.filter(isMissing);
  if (missing.length > 0 && process.getuid?.() === 0 && hasCommand("apt-get")) {
    const names = missing.map((entry) => entry.debian);
    const quiet = { stdio: "ignore", env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" } };
    spawnSync("apt-get", ["update", "-qq"], quiet);
    spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", ...names], quiet);
  }
  return missing
    .filter(isMissing)
    .map(
      (entry) =>
        `Cannot ${entry.need}: wanted ${entry.commands.join(" or ")}, found none. Install the package "${entry.debian}".`,
    );
}
