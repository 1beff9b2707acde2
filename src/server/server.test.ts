/** Attacks on a running server, over real connections. */
import { mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { tagOf } from "./folders.ts";
import { type RunningServer, startServer } from "./start-server.ts";

const chip = readFileSync("examples/01-one-bent-beam/chip.yaml", "utf8");
let server: RunningServer;
let folder: string;
let page: string;

beforeAll(async () => {
  const root = mkdtempSync(join(tmpdir(), "waferwright-server-"));
  folder = join(root, "chip");
  page = join(root, "page");
  mkdirSync(folder);
  mkdirSync(page);
  writeFileSync(join(folder, "chip.yaml"), chip);
  writeFileSync(join(folder, "secret.txt"), "not for the page");
  writeFileSync(join(page, "index.html"), "<!doctype html><title>page</title>");
  symlinkSync(join(folder, "secret.txt"), join(page, "linked.html"));
  server = await startServer({ folders: [folder], page, port: 0 });
});
afterAll(() => server.close());

interface Asked {
  readonly method?: string;
  readonly headers?: Record<string, string>;
  readonly body?: string;
  readonly bare?: boolean;
}

/** A request as it is written, host and path untouched. */
function ask(path: string, { method = "GET", headers = {}, body, bare = false }: Asked = {}) {
  return new Promise<{ code: number; body: string; headers: Record<string, string | string[] | undefined> }>(
    (resolve, reject) => {
      const sent = request(
        {
          host: "127.0.0.1",
          port: server.port,
          path,
          method,
          headers: {
            ...(!bare && { authorization: `Bearer ${server.token}` }),
            ...(body !== undefined && { "content-type": "application/json" }),
            ...headers,
          },
        },
        (response) => {
          let text = "";
          response.on("data", (data) => {
            text += data;
          });
          response.on("end", () => resolve({ code: response.statusCode ?? 0, body: text, headers: response.headers }));
        },
      );
      sent.on("error", reject);
      sent.end(body);
    },
  );
}

const put = (text: string, tag: string) => ask("/api/folders/1/text", { method: "PUT", body: JSON.stringify({ text, tag }) });

describe("who may speak to the server", () => {
  test("the page itself, with the token", async () => {
    const { code, body } = await ask("/api/folders");
    expect({ code, folders: JSON.parse(body) }).toMatchObject({ code: 200, folders: [{ id: "1", path: folder }] });
    expect(server.address).toBe(`http://127.0.0.1:${server.port}/#predict&token=${server.token}`);
    expect(server.token.length).toBeGreaterThanOrEqual(43);
  });

  test.each([
    ["no token", { bare: true }, 401],
    ["another token", { headers: { authorization: `Bearer ${"A".repeat(43)}` } }, 401],
    ["a token in the address alone", { bare: true }, 401],
    ["another host name", { headers: { host: "evil.example" } }, 421],
    ["our address by another name and the right port", { headers: { host: "rebound.example:80" } }, 421],
    ["another origin", { headers: { origin: "http://evil.example" } }, 403],
    ["a file opened from disk", { headers: { origin: "null" } }, 403],
  ] as const)("not %s", async (_, asked, code) => {
    const answer = await ask(_ === "a token in the address alone" ? `/api/folders?token=${server.token}` : "/api/folders", asked);
    expect(answer.code).toBe(code);
    expect(answer.body).not.toContain(folder);
  });

  test("nor does the page itself come under another name, so that nothing can be bent to it", async () => {
    expect((await ask("/", { headers: { host: "evil.example" }, bare: true })).code).toBe(421);
  });

  test("a new start has a new token", async () => {
    const other = await startServer({ folders: [folder], page, port: 0 });
    expect(other.token).not.toBe(server.token);
    await other.close();
  });
});

describe("what it gives", () => {
  test("the page under a policy without unsafe words, and never from a store", async () => {
    const { code, headers } = await ask("/", { bare: true });
    expect(code).toBe(200);
    expect(headers["content-security-policy"]).toContain("script-src 'self';");
    expect(headers["content-security-policy"]).toContain("default-src 'none'");
    expect(headers["content-security-policy"]).not.toMatch(/unsafe|https?:|\*/);
    expect(headers).toMatchObject({
      "x-content-type-options": "nosniff",
      "referrer-policy": "no-referrer",
      "cross-origin-opener-policy": "same-origin",
      "cache-control": "no-store",
    });
    expect(headers["access-control-allow-origin"]).toBeUndefined();
  });

  test.each([
    "/../chip/secret.txt",
    "/..%2fchip%2fsecret.txt",
    "/%2e%2e/chip/secret.txt",
    "/....//chip/secret.txt",
    "/..\\chip\\secret.txt",
    "/linked.html/../../chip/secret.txt",
    "//etc/passwd",
    "/linked.html",
    "/index.html%00.txt",
  ])("not %s", async (path) => {
    const { code, body } = await ask(path);
    expect(code).toBeGreaterThanOrEqual(400);
    expect(body).not.toContain("not for the page");
  });

  test.each(["/api/folders/2/text", "/api/folders/..%2f/text", "/api/folders/__proto__/text", "/api/nothing"])(
    "not %s",
    async (path) => {
      expect((await ask(path)).code).toBe(404);
    },
  );

  test("files are only read", async () => {
    expect((await ask("/index.html", { method: "DELETE" })).code).toBe(405);
  });
});

describe("saving", () => {
  test("goes over the text it was made from, and over no other: what stands on disk is handed back", async () => {
    const first = await ask("/api/folders/1/text");
    const { tag } = JSON.parse(first.body) as { tag: string };
    const saved = await put(`${chip}# one\n`, tag);
    expect(saved.code).toBe(200);
    expect(readFileSync(join(folder, "chip.yaml"), "utf8")).toBe(`${chip}# one\n`);
    const late = await put(`${chip}# two\n`, tag);
    expect(late.code).toBe(409);
    expect(JSON.parse(late.body)).toEqual({ text: `${chip}# one\n`, tag: tagOf(`${chip}# one\n`) });
    expect(readFileSync(join(folder, "chip.yaml"), "utf8")).toBe(`${chip}# one\n`);
    expect((await put(chip, tagOf(`${chip}# one\n`))).code).toBe(200);
  });

  test("a body that is too large is refused, told beforehand or not, and one that is no JSON or lacks a field", async () => {
    const large = "x".repeat(4_100_000);
    expect((await put(large, tagOf(chip))).code).toBe(413);
    expect(
      (await ask("/api/folders/1/text", { method: "PUT", body: large, headers: { "transfer-encoding": "chunked" } })).code,
    ).toBe(413);
    expect((await ask("/api/folders/1/text", { method: "PUT", body: "{" })).code).toBe(400);
    expect((await ask("/api/folders/1/text", { method: "PUT", body: '{"text":1,"tag":"a"}' })).code).toBe(400);
    expect((await ask("/api/folders/1/text", { method: "PUT", body: '{"text":"a"}' })).code).toBe(400);
    const form = { "content-type": "text/plain" };
    expect((await ask("/api/folders/1/text", { method: "PUT", body: '{"text":"a","tag":"b"}', headers: form })).code).toBe(400);
    expect(readFileSync(join(folder, "chip.yaml"), "utf8")).toBe(chip);
  });

  test("hostile text is only text: saved, handed back, never run", async () => {
    const bomb = `a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: [*b,*b,*b,*b,*b,*b,*b,*b,*b]\n<script>alert(1)</script>\n`;
    expect((await put(bomb, tagOf(chip))).code).toBe(200);
    const { body, headers } = await ask("/api/folders/1/text");
    expect((JSON.parse(body) as { text: string }).text).toBe(bomb);
    expect(headers["content-type"]).toContain("application/json");
    expect((await ask("/api/folders")).code).toBe(200);
    expect((await put(chip, tagOf(bomb))).code).toBe(200);
  });

  test("a folder without a chip is not opened; a new chip is made, and never over one that is there", async () => {
    const post = (body: object) => ask("/api/folders", { method: "POST", body: JSON.stringify(body) });
    const other = mkdtempSync(join(tmpdir(), "waferwright-new-"));
    expect((await post({ path: other })).body).toContain("Cannot find chip.yaml");
    expect((await post({ path: other, name: "Gripper" })).code).toBe(200);
    expect(readFileSync(join(other, "chip.yaml"), "utf8")).toContain('chip: "Gripper"');
    expect((await post({ path: other, name: "Again" })).code).toBe(409);
    expect(readFileSync(join(other, "chip.yaml"), "utf8")).toContain('chip: "Gripper"');
  });
});

test("what another program writes is told within half a second, and a connection that says nothing holds nothing up", async () => {
  const silent = connect(server.port, "127.0.0.1");
  const lines: string[] = [];
  const waits = new Promise<void>((resolve) => {
    const sent = request(
      {
        host: "127.0.0.1",
        port: server.port,
        path: "/api/folders/1/changes",
        headers: { authorization: `Bearer ${server.token}` },
      },
      (response) => {
        response.on("data", (data: Buffer) => {
          if (lines.length === 0 && data.toString().trim() === "") writeFileSync(join(folder, "chip.yaml"), `${chip}# outside\n`);
          lines.push(
            ...data
              .toString()
              .split("\n")
              .filter((line) => line !== ""),
          );
          if (lines.length > 0) {
            sent.destroy();
            resolve();
          }
        });
      },
    );
    sent.on("error", () => undefined);
    sent.end();
  });
  await waits;
  silent.destroy();
  expect(JSON.parse(lines[0]!)).toEqual({ text: `${chip}# outside\n`, tag: tagOf(`${chip}# outside\n`) });
  writeFileSync(join(folder, "chip.yaml"), chip);
});
