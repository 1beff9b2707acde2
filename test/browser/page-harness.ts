/** A real browser on the page as it is built, served under the strict policy it must live with; every complaint of the browser is kept. */
import { readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Page } from "playwright-core";

const { buildPage } = (await import(new URL("../../tools/build-page.mjs", import.meta.url).href)) as {
  buildPage(): Promise<void>;
};
const { findCommand } = (await import(new URL("../../tools/system-packages.mjs", import.meta.url).href)) as {
  findCommand(name: string): string | undefined;
};

export const root = fileURLToPath(new URL("../..", import.meta.url));
const types: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".css": "text/css",
  ".woff2": "font/woff2",
};
const policy =
  "default-src 'none'; script-src 'self'; worker-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' blob: data:; connect-src 'self'";

export interface Bench {
  readonly browser: Browser;
  /** Address of the page, with a slash at its end. */
  readonly address: string;
  /** A page at a view. What the browser complains of is gathered in `complaints`. */
  open(at?: Opening): Promise<{ readonly page: Page; readonly complaints: string[] }>;
  close(): Promise<void>;
}

export interface Opening {
  readonly view?: string;
  readonly mode?: "paper" | "night" | "amber";
  readonly width?: number;
  readonly height?: number;
  /** A finger in place of a mouse. */
  readonly touch?: boolean;
  /** Another address than that of the bench. */
  readonly address?: string;
}

function serve(folder: string): Promise<Server> {
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? "/", "http://localhost").pathname;
    try {
      const body = readFileSync(join(folder, path === "/" ? "index.html" : path));
      response.writeHead(200, {
        "content-type": types[extname(path)] ?? "text/html; charset=utf-8",
        "content-security-policy": policy,
      });
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  return new Promise((resolve) => server.listen(0, "127.0.0.1", () => resolve(server)));
}

/** Builds the page, serves it and starts a browser. */
export async function openBench(): Promise<Bench> {
  await buildPage();
  const server = await serve(join(root, "dist", "page"));
  const bound = server.address();
  if (bound === null || typeof bound === "string") throw new Error("Cannot serve the page: the server has no port");
  const executablePath = findCommand("chromium") ?? findCommand("chromium-browser");
  if (executablePath === undefined) throw new Error('Cannot start a browser: wanted "chromium" on the search path, found none');
  const browser = await chromium.launch({ executablePath, args: process.getuid?.() === 0 ? ["--no-sandbox"] : [] });
  const address = `http://127.0.0.1:${bound.port}/`;
  return {
    browser,
    address,
    async open({ view = "predict", mode = "paper", width = 1440, height = 900, touch = false, address: other = address } = {}) {
      const page = await browser.newPage({ viewport: { width, height }, hasTouch: touch, isMobile: touch });
      const complaints: string[] = [];
      page.on("console", (message) => {
        if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
      });
      page.on("pageerror", (error) => complaints.push(error.message));
      page.on("requestfailed", (request) => {
        // a stream that the page itself ends is no complaint
        if (request.failure()?.errorText !== "net::ERR_ABORTED") complaints.push(`not reached: ${request.url()}`);
      });
      await page.addInitScript((word) => {
        try {
          localStorage.setItem("waferwright mode", word);
        } catch {
          document.documentElement.dataset.mode = word;
        }
      }, mode);
      await page.goto(`${other}#${view}`);
      return { page, complaints };
    },
    async close() {
      await browser.close();
      server.close();
    },
  };
}

/** Waits until the first answer stands in the ledger. */
export async function untilAnswered(page: Page): Promise<void> {
  await page.locator(".ledger li").first().waitFor({ timeout: 60_000 });
}

/** Waits until nothing is being worked out any more. */
export async function untilAtRest(page: Page): Promise<void> {
  await untilAnswered(page);
  await page.waitForFunction(() => document.documentElement.dataset.work === "none", undefined, { timeout: 120_000 });
}
