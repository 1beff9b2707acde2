/**
 * Makes a fresh clone ready, then runs the given command: `node tools/ready.mjs node some-script.mjs`.
 * Built-ins only, because it runs before anything is installed.
 * The packages are installed when the lock file or the platform differs from what node_modules/.ready remembers.
 */

import { spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readFileSync, realpathSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const oldestNode = 20;
const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** A sentence when this Node is too old, otherwise undefined. */
export function describeOldNode(version) {
  const major = Number.parseInt(version, 10);
  return major >= oldestNode
    ? undefined
    : `Cannot run Waferwright: wanted Node ${oldestNode} or newer, found Node ${version}. Install a newer Node from nodejs.org.`;
}

/** Fingerprint of what ought to be installed: the lock file, and the platform because some packages carry native code. */
export function fingerprintOf(folder) {
  const lock = readFileSync(join(folder, "package-lock.json"), "utf8").replaceAll("\r\n", "\n");
  return createHash("sha256").update(`${process.platform} ${process.arch}\n${lock}`).digest("hex");
}

/** True when the packages installed in `folder` are the ones its lock file asks for. */
export function isReady(folder) {
  const mark = join(folder, "node_modules", ".ready");
  return existsSync(mark) && readFileSync(mark, "utf8") === fingerprintOf(folder);
}

/** How to start npm here: through its own script where that can be found, because `npm` is a batch file on Windows. */
export function findNpm() {
  const beside = dirname(realpathSync(process.execPath));
  const candidates = [
    process.env.npm_execpath ?? "",
    join(beside, "node_modules", "npm", "bin", "npm-cli.js"),
    join(beside, "..", "lib", "node_modules", "npm", "bin", "npm-cli.js"),
  ];
  const script = candidates.find((path) => path.endsWith("npm-cli.js") && existsSync(path));
  return script === undefined
    ? { command: "npm", before: [], shell: process.platform === "win32" }
    : { command: process.execPath, before: [script], shell: false };
}

/** Installs the packages if need be. Returns a sentence when that failed, otherwise undefined. */
export function makeReady() {
  const old = describeOldNode(process.versions.node);
  if (old !== undefined) return old;
  if (isReady(root)) return undefined;
  process.stderr.write("Installing the packages (npm ci); this happens once and takes about half a minute.\n");
  const npm = findNpm();
  // npm's own messages go to standard error: the output of the command that follows stays clean.
  const run = spawnSync(
    npm.command,
    [...npm.before, "ci", "--no-audit", "--no-fund", "--no-update-notifier", "--loglevel=error"],
    {
      cwd: root,
      shell: npm.shell,
      stdio: ["ignore", process.stderr.fd, process.stderr.fd],
    },
  );
  if (run.status !== 0) {
    const found = run.error === undefined ? `it ended with code ${run.status}` : run.error.message;
    return `Cannot install the packages: wanted npm ci to succeed, found that ${found}. Check the network, then run the command again.`;
  }
  writeFileSync(join(root, "node_modules", ".ready"), fingerprintOf(root));
  return undefined;
}

/** Runs a command to its end and takes over its exit code. */
function runCommand(command, commandArguments) {
  const child = spawn(command === "node" ? process.execPath : command, commandArguments, {
    stdio: "inherit",
    shell: command !== "node" && process.platform === "win32",
  });
  // The terminal sends Ctrl-C to the child as well: wait for it to finish in its own way.
  process.on("SIGINT", () => {});
  process.on("SIGTERM", () => child.kill("SIGTERM"));
  child.on("error", (error) => {
    process.stderr.write(`Cannot start ${command}: ${error.message}\n`);
    process.exitCode = 1;
  });
  child.on("exit", (code, signal) => {
    process.exitCode = code ?? (signal === "SIGINT" ? 130 : 1);
  });
}

if (process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const problem = makeReady();
  if (problem !== undefined) {
    process.stderr.write(`${problem}\n`);
    process.exitCode = 1;
  } else if (process.argv.length > 2) {
    runCommand(process.argv[2], process.argv.slice(3));
  }
}
