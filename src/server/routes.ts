/** What the server answers: the files of the page to anyone on this machine, chip texts to who knows the token. Main test: server.test.ts. */
import { setTimeout } from "node:timers/promises";
import { type Context, Hono } from "hono";
import { bodyLimit } from "hono/body-limit";
import { streamText } from "hono/streaming";
import { InputError } from "#base";
import { largestChipText } from "#chip";
import { SaveError } from "#node";
import { type Admission, turnAway } from "./admission.ts";
import type { Folders } from "./folders.ts";
import type { PageFile } from "./page-files.ts";

export interface RouteOptions extends Admission {
  readonly folders: Folders;
  readonly files: ReadonlyMap<string, PageFile>;
  /** The server ends: streams of changes end with it. */
  readonly ended: AbortSignal;
}

/** A text and what stands round it in JSON; escapes may double it. */
const largestBody = 4 * largestChipText;
/** A line that says nothing keeps the stream of changes from being taken for dead [ms]. */
const pulseEvery = 15_000;

const headers: Readonly<Record<string, string>> = {
  "content-security-policy": [
    "default-src 'none'",
    "script-src 'self'",
    "worker-src 'self'",
    "style-src 'self'",
    "font-src 'self'",
    "img-src 'self' blob: data:",
    "connect-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join("; "),
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-embedder-policy": "require-corp",
  "cross-origin-resource-policy": "same-origin",
  "cache-control": "no-store",
};

/** Text fields of a JSON body; undefined where it is anything else. */
async function fieldsOf<K extends string>(context: Context, names: readonly K[]): Promise<Record<K, string> | undefined> {
  if (!/^application\/json\b/.test(context.req.header("content-type") ?? "")) return undefined;
  const body: unknown = await context.req.json().catch(() => undefined);
  if (typeof body !== "object" || body === null) return undefined;
  const fields = names.map((name) => [name, (body as Record<string, unknown>)[name]] as const);
  return fields.every(([, value]) => typeof value === "string") ? (Object.fromEntries(fields) as Record<K, string>) : undefined;
}

const sentence = (error: InputError | SaveError): string =>
  error instanceof SaveError ? error.message : error.problems.map(({ message }) => message).join(" ");

/** The methods that each address of the application takes, as the header "allow" lists them. */
function methodsOf(app: Hono): ReadonlyMap<string, string> {
  const found = new Map<string, string[]>();
  for (const { path, method } of app.routes) {
    if (method === "ALL") continue;
    found.set(path, [...(found.get(path) ?? []), method, ...(method === "GET" ? ["HEAD"] : [])]);
  }
  return new Map([...found].map(([path, methods]) => [path, methods.join(", ")]));
}

export function createRoutes({ folders, files, hosts, token, ended }: RouteOptions): Hono {
  const app = new Hono();
  app.use("*", async (context, next) => {
    const { req } = context;
    const caller = {
      host: req.header("host"),
      origin: req.header("origin"),
      authorization: req.header("authorization"),
      site: req.header("sec-fetch-site"),
    };
    const refused = turnAway(caller, { hosts, token, needsToken: req.path.startsWith("/api/") });
    if (refused === undefined) await next();
    else context.res = context.json({ problem: refused.reason }, refused.code);
    for (const [name, value] of Object.entries(headers)) context.res.headers.set(name, value);
  });
  app.use(
    "/api/*",
    bodyLimit({
      maxSize: largestBody,
      onError: (context) => context.json({ problem: `A request may hold at most ${largestBody / 1e6} MB.` }, 413),
    }),
  );
  app.use("/api/folders/:id/*", async (context, next) => {
    if (!folders.has(context.req.param("id"))) return context.json({ problem: "No such folder is open." }, 404);
    return next();
  });

  app.get("/api/folders", async (context) => context.json(await folders.list()));
  app.post("/api/folders", async (context) => {
    const asked = await fieldsOf(context, ["path"]);
    if (asked === undefined) return context.json({ problem: "Wanted JSON with a path." }, 400);
    const named = await fieldsOf(context, ["name"]);
    return context.json(await (named === undefined ? folders.open(asked.path) : folders.create(asked.path, named.name)));
  });
  app.get("/api/folders/:id/text", async (context) => context.json(await folders.read(context.req.param("id"))));
  app.put("/api/folders/:id/text", async (context) => {
    const state = await fieldsOf(context, ["text", "tag"]);
    if (state === undefined) return context.json({ problem: "Wanted JSON with a text and the tag it was made from." }, 400);
    const saved = await folders.save(context.req.param("id"), state);
    return saved.isSaved ? context.json({ tag: saved.tag }) : context.json({ text: saved.text, tag: saved.tag }, 409);
  });
  app.get("/api/folders/:id/changes", (context) => {
    const id = context.req.param("id");
    return streamText(context, async (stream) => {
      const stop = folders.watch(id, async (state) => void (await stream.writeln(JSON.stringify(state))));
      const gone = new AbortController();
      stream.onAbort(() => gone.abort());
      ended.addEventListener("abort", () => gone.abort(), { once: true, signal: gone.signal });
      // the first line says that the watch has begun
      while (!gone.signal.aborted && !ended.aborted && !stream.aborted) {
        await stream.writeln("");
        await setTimeout(pulseEvery, undefined, { signal: gone.signal }).catch(() => undefined);
      }
      stop();
    });
  });
  for (const [path, methods] of methodsOf(app))
    app.all(path, (context) => context.json({ problem: `This takes ${methods}.` }, 405, { allow: methods }));
  app.all("/api/*", (context) => context.json({ problem: "There is no such request." }, 404));
  app.get("*", (context) => {
    const file = files.get(context.req.path);
    return file === undefined
      ? context.text("There is no such file.", 404)
      : context.body(file.body, 200, { "content-type": file.type });
  });
  app.all("*", (context) => context.text("Files are only read here.", 405, { allow: "GET, HEAD" }));

  app.onError((error, context) => {
    if (error instanceof SaveError)
      return context.json({ problem: sentence(error) }, error.failure === "changed on disk" ? 409 : 400);
    if (error instanceof InputError) return context.json({ problem: sentence(error) }, 400);
    return context.json({ problem: "The server stumbled over this request; nothing was changed." }, 500);
  });
  return app;
}
