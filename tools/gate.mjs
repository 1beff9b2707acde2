/**
 * The gate: every check a change must pass, one line each with its time.
 * `node tools/gate.mjs` checks under this Node; with CI=true the unit tests run under the other supported Nodes as well.
 * The last line, alone, is "N passed, N failed": the tests of all runs; a check that fails counts as one failure.
 */

import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { findNpm } from "./ready.mjs";
import { installSystemPackages } from "./system-packages.mjs";

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const otherNodes = [22, 24];

const script = (path, ...rest) => [join("node_modules", path), ...rest];
const typescript = (path, ...rest) => ["--import", "tsx", join("tools", path), ...rest];

const checks = [
  { name: "format and lint", run: script("@biomejs/biome/bin/biome", "check", "--error-on-warnings") },
  { name: "types", run: script("typescript/bin/tsc", "-p", "tsconfig.json") },
  { name: "types of the pure layers", run: script("typescript/bin/tsc", "-p", "tsconfig.pure.json") },
  { name: "types of the page", run: script("typescript/bin/tsc", "-p", "tsconfig.page.json") },
  { name: "types of the browser tests", run: script("typescript/bin/tsc", "-p", "tsconfig.browser-tests.json") },
  { name: "layers", run: typescript("check-layers.ts") },
  { name: "file sizes", run: typescript("check-size.ts") },
  { name: "sources and links", run: typescript("check-sources.ts") },
  { name: "colours", run: typescript("check-colours.ts") },
  { name: "error sentences", run: typescript("check-sentences.ts") },
  { name: "letters of the plates", run: typescript("make-glyphs.ts", "--check") },
  { name: "fields of the text", run: typescript("make-text-fields.ts", "--check") },
  { name: "licences", run: typescript("check-licences.ts") },
  { name: "dead code", run: script("knip/bin/knip.js", "--no-progress") },
];

/** Colours would hide the starts of lines that are looked for. */
const plain = { ...process.env, NO_COLOR: "1", FORCE_COLOR: "0" };

/** Runs a program of Node and collects what it prints. */
function collect(command, commandArguments, options = {}) {
  return new Promise((resolve) => {
    const child = spawn(command, commandArguments, { cwd: root, stdio: ["ignore", "pipe", "pipe"], env: plain, ...options });
    let output = "";
    child.stdout.on("data", (data) => {
      output += data;
    });
    child.stderr.on("data", (data) => {
      output += data;
    });
    child.on("error", (error) => resolve({ code: 1, output: `${output}${error.message}\n` }));
    child.on("close", (code) => resolve({ code: code ?? 1, output }));
  });
}

function printLine(passed, name, startedAt, remark = "") {
  const seconds = ((performance.now() - startedAt) / 1000).toFixed(1).padStart(6);
  console.log(`${passed ? "ok  " : "FAIL"} ${seconds} s  ${name}${remark}`);
}

/** Sums one report of vitest. A file that could not even be loaded has no tests to count: it is one failure. */
function countTests(reportPath) {
  const report = JSON.parse(readFileSync(reportPath, "utf8"));
  const broken = report.testResults.filter(
    (file) => file.status === "failed" && file.assertionResults.every((a) => a.status !== "failed"),
  );
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + broken.length,
    skipped: report.numPendingTests + report.numTodoTests,
  };
}

/** Runs the tests, all of them here or the unit tests under another Node. */
async function runTests(name, nodeMajor) {
  const startedAt = performance.now();
  const folder = mkdtempSync(join(tmpdir(), "waferwright-gate-"));
  const reportPath = join(folder, "report.json");
  const vitest = script("vitest/vitest.mjs", "run", "--reporter=default", "--reporter=json", `--outputFile.json=${reportPath}`);
  let result;
  if (nodeMajor === undefined) result = await collect(process.execPath, vitest);
  else {
    // The version is printed by the same Node that runs the tests, so that a fallback to this one would be seen.
    const line = `node -p "'running under '+process.version" && node ${[...vitest, "src"].join(" ")}`;
    const npm = findNpm();
    const npmArguments = [...npm.before, "exec", "--yes", `--package=node@${nodeMajor}`, "-c", npm.shell ? `"${line}"` : line];
    result = await collect(npm.command, npmArguments, { shell: npm.shell });
    if (!result.output.includes(`running under v${nodeMajor}.`)) {
      result = { code: 1, output: `${result.output}\nCannot run the tests under Node ${nodeMajor}: that Node did not start.\n` };
    }
  }
  let counts = { passed: 0, failed: 0, skipped: 0 };
  try {
    counts = countTests(reportPath);
  } catch {
    result.code = 1;
  }
  rmSync(folder, { recursive: true, force: true });
  const passed = result.code === 0 && counts.failed === 0;
  if (!passed && counts.failed === 0) counts.failed = 1;
  const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : "";
  printLine(passed, name, startedAt, `: ${counts.passed} passed, ${counts.failed} failed${skipped}`);
  if (!passed) console.log(result.output.trimEnd());
  else for (const line of result.output.match(/^campaign ".*$/gm) ?? []) console.log(`           ${line}`);
  return { ...counts, ok: passed };
}

async function runGate() {
  const startedAt = performance.now();
  const failures = [];
  let passed = 0;
  let failed = 0;
  for (const check of checks) {
    const checkStartedAt = performance.now();
    const { code, output } = await collect(process.execPath, check.run);
    printLine(code === 0, check.name, checkStartedAt);
    if (code === 0) continue;
    console.log(output.trimEnd());
    failures.push(check.name);
    failed++;
  }
  for (const sentence of installSystemPackages()) {
    console.log(sentence);
    failures.push("system packages");
    failed++;
  }
  const runs = [{ name: `tests under Node ${process.versions.node}`, major: undefined }];
  const own = Number.parseInt(process.versions.node, 10);
  if (process.env.CI === "true") {
    for (const major of otherNodes) if (major !== own) runs.push({ name: `unit tests under Node ${major}`, major });
  }
  for (const { name, major } of runs) {
    const counts = await runTests(name, major);
    passed += counts.passed;
    failed += counts.failed;
    if (!counts.ok) failures.push(name);
  }
  printLine(failures.length === 0, "all", startedAt);
  if (failures.length > 0) console.log(`The gate is closed: ${failures.join(", ")}.`);
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failures.length === 0 ? 0 : 1;
}

await runGate();
