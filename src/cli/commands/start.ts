/** start: serves the page on this machine alone and opens it in the browser. */
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { cp } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { errorAbout } from "#base";
import { chipFileName } from "#chip";
import { startServer } from "#server";
import type { RegisterCommand } from "./command.ts";
import { examplesFolder } from "./new.ts";

/** Where a copy of the demo goes: the example itself stays as it came. */
const demoFolder = join("chips", "leafgate");

/** Folder of the built page: beside the bundle, or in dist beside the sources. */
function pageFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (folder !== dirname(folder)) {
    const found = [join(folder, "page"), join(folder, "dist", "page")].find((path) => existsSync(join(path, "index.html")));
    if (found !== undefined) return found;
    folder = dirname(folder);
  }
  throw errorAbout(
    "dist/page",
    'Cannot find the built page: wanted dist/page beside the program, found none. Build it with "npm run build".',
  );
}

/** Asks the system to show an address; where there is no browser nothing happens. */
function show(address: string): void {
  // on Windows not through a shell: it would end the address at its "&", and the token with it
  const [command, ...before] =
    process.platform === "darwin"
      ? ["open"]
      : process.platform === "win32"
        ? ["rundll32", "url.dll,FileProtocolHandler"]
        : ["xdg-open"];
  const child = spawn(command!, [...before, address], { stdio: "ignore", detached: true });
  child.on("error", () => undefined);
  child.unref();
}

async function copyOfDemo(): Promise<string> {
  if (!existsSync(join(demoFolder, chipFileName)))
    await cp(join(examplesFolder(), "02-leafgate"), demoFolder, { recursive: true, force: false });
  return demoFolder;
}

function portOf(text: string): number {
  const port = Number(text);
  if (!/^\d+$/.test(text) || port > 65_535)
    throw errorAbout("--port", `Cannot listen on port ${text}: wanted a whole number from 0 to 65535; 0 takes any that is free.`);
  return port;
}

export const registerStart: RegisterCommand = (program, run) => {
  program
    .command("start")
    .argument("[folder]", "folder with a chip.yaml; a copy of the Leafgate example otherwise")
    .option("--port <number>", "port on the loopback address; 0 takes any that is free", "0")
    .option("--ipv6", "answer on the loopback address of IPv6 as well")
    .option("--no-open", "print the address, open nothing")
    .description("the page: the live device and what must hold, in your browser")
    .addHelpText("after", "\nExamples:\n  waferwright start\n  waferwright start my-chip --port 8123 --no-open")
    .action((folder: string | undefined, options: { port: string; open: boolean; ipv6?: true }) =>
      run(async (context) => {
        const port = portOf(options.port);
        const chosen = folder ?? (await copyOfDemo());
        const server = await startServer({ folders: [chosen], page: pageFolder(), port, alsoIpv6: options.ipv6 === true }).catch(
          (error: NodeJS.ErrnoException) => {
            if (error.code === "EADDRINUSE")
              throw errorAbout(
                "--port",
                `Cannot listen on port ${port}: another program does. Take another, or leave --port out.`,
              );
            if (error.code === "EACCES")
              throw errorAbout(
                "--port",
                `Cannot listen on port ${port}: access is denied. Take one above 1023, or leave --port out.`,
              );
            if (error.code === "EADDRNOTAVAIL" || error.code === "EAFNOSUPPORT")
              throw errorAbout("--ipv6", "Cannot listen on [::1]: this machine has no IPv6. Leave --ipv6 out.");
            throw error;
          },
        );
        context.print(`  ${"Page".padEnd(10)}${server.address}`);
        context.print(`  ${"Chip".padEnd(10)}${join(chosen, chipFileName)}`);
        context.print(`  ${"Stop".padEnd(10)}Ctrl C`);
        if (options.open && process.stdout.isTTY) show(server.address);
        await new Promise<void>((resolve) => {
          for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => resolve());
        });
        await server.close();
      }),
    );
};
