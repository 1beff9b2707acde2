/** A real browser on the page as it is built, served as the program serves it; every complaint of the browser is kept. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Page } from "playwright-core";
import { startServer } from "../../src/server/index.ts";

const tool = (name: string): Promise<unknown> => import(new URL(`../../tools/${name}`, import.meta.url).href);
const { buildBundles } = (await tool("build.mjs")) as { buildBundles(): Promise<void> };
const { isFresh } = (await tool("freshness.mjs")) as { isFresh(root: string): boolean };
const { findCommand } = (await tool("system-packages.mjs")) as { findCommand(name: string): string | undefined };

export const root = fileURLToPath(new URL("../..", import.meta.url));
/** The page as it is built. */
export const builtPage = join(root, "dist", "page");

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

/** Sees to it that the page is built, serves it as the program does, with no folder open, and starts a browser. */
export async function openBench(): Promise<Bench> {
  if (!isFresh(root)) await buildBundles();
  const server = await startServer({ folders: [], page: builtPage, port: 0 });
  const executablePath = findCommand("chromium") ?? findCommand("chromium-browser");
  if (executablePath === undefined) throw new Error('Cannot start a browser: wanted "chromium" on the search path, found none');
  const browser = await chromium.launch({ executablePath, args: process.getuid?.() === 0 ? ["--no-sandbox"] : [] });
  // without the token the page keeps its chips itself
  const address = `http://127.0.0.1:${server.port}/`;
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
      await server.close();
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
