/** Attacks below the level of well-formed requests: bytes as they are written, links that move, texts made to stall, callers that hang. */
import { spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { connect } from "node:net";
import { networkInterfaces, tmpdir } from "node:os";
import { join } from "node:path";
import { beforeEach, describe, expect, test } from "vitest";
import { tagOf } from "./folders.ts";
import { type RunningServer, startServer } from "./start-server.ts";

const chip = "chip: Plain\nversion: 1\n";
let root: string;
let folder: string;
let page: string;
let server: RunningServer;

beforeEach(async () => {
  root = mkdtempSync(join(tmpdir(), "waferwright-attacks-"));
  folder = join(root, "chip");
  page = join(root, "page");
  mkdirSync(folder);
  mkdirSync(page);
  writeFileSync(join(folder, "chip.yaml"), chip);
  writeFileSync(join(page, "index.html"), "<!doctype html><title>page</title>");
  server = await startServer({ folders: [folder], page, port: 0, requestTimeout: 400 });
  return async () => {
    await server.close();
    rmSync(root, { recursive: true, force: true });
  };
});

interface Asked {
  readonly method?: string;
  readonly headers?: Record<string, string>;
  readonly body?: string;
}

async function ask(path: string, { method = "GET", headers = {}, body }: Asked = {}) {
  const response = await fetch(`http://127.0.0.1:${server.port}${path}`, {
    method,
    headers: {
      authorization: `Bearer ${server.token}`,
      ...(body !== undefined && { "content-type": "application/json" }),
      ...headers,
    },
    ...(body !== undefined && { body }),
  });
  return { code: response.status, body: await response.text(), headers: response.headers };
}

const textPath = "/api/folders/1/text";
const put = (text: string, tag: string) => ask(textPath, { method: "PUT", body: JSON.stringify({ text, tag }) });
const onDisk = (): string => readFileSync(join(folder, "chip.yaml"), "utf8");

/** Lines of a request as they are, then whatever `more` writes; all that came back until the server closed the connection. */
function raw(
  lines: readonly string[],
  { more = () => undefined, at = server }: { more?: (write: (text: string) => void) => void; at?: RunningServer } = {},
): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect(at.port, "127.0.0.1");
    let answer = "";
    socket.setEncoding("latin1");
    socket.on("data", (data: string) => {
      answer += data;
    });
    socket.on("error", () => undefined);
    socket.on("close", () => resolve(answer));
    socket.write(`${lines.join("\r\n")}\r\n\r\n`);
    more((text) => {
      if (!socket.destroyed) socket.write(text);
    });
  });
}

const codeOf = (answer: string): number => Number(/^HTTP\/1\.1 (\d+)/.exec(answer)?.[1] ?? Number.NaN);
const own = (): string[] => [`Host: 127.0.0.1:${server.port}`, `Authorization: Bearer ${server.token}`];

describe("requests that are not as they should be", () => {
  test.each([
    ["an address as a whole, of another host", () => ["GET http://evil.example/api/folders HTTP/1.1", "Host: evil.example"]],
    ["no host name at all", () => ["GET /api/folders HTTP/1.0"]],
    ["our host name twice, then another", () => ["GET /api/folders HTTP/1.1", "Host: evil.example", ...own()]],
    ["our host name with a user before it", () => ["GET /api/folders HTTP/1.1", `Host: a@127.0.0.1:${server.port}`]],
    ["our host name without a port", () => ["GET /api/folders HTTP/1.1", "Host: 127.0.0.1", own()[1]!]],
    ["a path that is encoded, without the token", () => ["GET /%61pi/folders HTTP/1.1", own()[0]!]],
    ["a path with a step in it, without the token", () => ["GET /x/../api/folders HTTP/1.1", own()[0]!]],
    ["a path with two strokes, without the token", () => ["GET //api/folders HTTP/1.1", own()[0]!]],
    ["a line end in a header", () => ["GET /api/folders HTTP/1.1", ...own(), "X: a\u0000b"]],
    ["two lengths of one body", () => [`PUT ${textPath} HTTP/1.1`, ...own(), "Content-Length: 5", "Content-Length: 6"]],
    [
      "a length and chunks at once",
      () => [`PUT ${textPath} HTTP/1.1`, ...own(), "Content-Length: 5", "Transfer-Encoding: chunked"],
    ],
  ] as const)("%s", async (_, lines) => {
    const answer = await raw([...lines(), "Connection: close"]);
    expect(codeOf(answer)).toBeGreaterThanOrEqual(400);
    expect(codeOf(answer)).toBeLessThan(500);
    expect(answer).not.toContain(folder);
    expect(onDisk()).toBe(chip);
  });

  test.each(["cross-site", "same-site", "none"])("asked by the browser for another page (%s)", async (site) => {
    // fetch of Node says "cors" mode itself but leaves this header to us
    const answer = await raw(["GET /api/folders HTTP/1.1", ...own(), `Sec-Fetch-Site: ${site}`, "Connection: close"]);
    expect(codeOf(answer)).toBe(403);
  });

  test("by another method, which is told with those there are", async () => {
    const answer = await ask(textPath, { method: "DELETE" });
    expect([answer.code, answer.headers.get("allow")]).toEqual([405, "GET, HEAD, PUT"]);
    expect((await ask("/api/folders", { method: "PATCH", body: "{}" })).headers.get("allow")).toBe("GET, HEAD, POST");
    expect((await ask("/", { method: "POST", body: "{}" })).code).toBe(405);
    // a question before the question, as another page would have it asked: no leave is given
    const before = await ask("/api/folders", { method: "OPTIONS", headers: { origin: "http://evil.example" } });
    expect([before.code, before.headers.get("access-control-allow-origin")]).toEqual([403, null]);
    expect(onDisk()).toBe(chip);
  });

  test("HEAD gives the head alone, and needs the token like the rest", async () => {
    const answer = await ask(textPath, { method: "HEAD" });
    expect([answer.code, answer.body, answer.headers.get("cache-control")]).toEqual([200, "", "no-store"]);
    expect((await ask(textPath, { method: "HEAD", headers: { authorization: "" } })).code).toBe(401);
    expect((await ask("/", { method: "HEAD" })).headers.get("content-security-policy")).toContain("default-src 'none'");
  });

  test("deep and strange JSON is refused in words", async () => {
    for (const body of ["[".repeat(1_000_000), '{"a":'.repeat(200_000), "null", "[]", '{"__proto__":{"text":"a","tag":"b"}}']) {
      const answer = await ask(textPath, { method: "PUT", body });
      expect([answer.code, answer.body]).toEqual([400, '{"problem":"Wanted JSON with a text and the tag it was made from."}']);
    }
  });
});

describe("callers that hang", () => {
  test.each([
    ["in the middle of the head", () => ["GET / HTTP/1.1"].join("\r\n")],
    [
      "before a body that was announced",
      () => [`PUT ${textPath} HTTP/1.1`, ...own(), "Content-Length: 100", "", ""].join("\r\n"),
    ],
    [
      "in the middle of a body in chunks",
      () => [`PUT ${textPath} HTTP/1.1`, ...own(), "Transfer-Encoding: chunked", "", "5", '{"tex', ""].join("\r\n"),
    ],
  ] as const)("%s are let go", async (_, begun) => {
    const startedAt = performance.now();
    const closed = new Promise<void>((resolve) => {
      const socket = connect(server.port, "127.0.0.1", () => socket.write(begun()));
      socket.on("error", () => undefined);
      socket.on("data", () => undefined);
      socket.on("close", () => resolve());
    });
    // others are answered meanwhile
    expect((await ask("/api/folders")).code).toBe(200);
    await closed;
    // the limit is 400 ms, looked at each 100 ms
    expect(performance.now() - startedAt).toBeGreaterThan(350);
    expect(onDisk()).toBe(chip);
  });

  test("a body without end is refused while it comes", async () => {
    const patient = await startServer({ folders: [folder], page, port: 0 });
    const chunk = "x".repeat(64 * 1024);
    let nSent = 0;
    let timer: ReturnType<typeof setInterval> | undefined;
    const lines = [
      `PUT ${textPath} HTTP/1.1`,
      `Host: 127.0.0.1:${patient.port}`,
      `Authorization: Bearer ${patient.token}`,
      "Content-Type: application/json",
      "Transfer-Encoding: chunked",
    ];
    const more = (write: (text: string) => void): void => {
      timer = setInterval(() => {
        write(`${chunk.length.toString(16)}\r\n${chunk}\r\n`);
        nSent += chunk.length;
      }, 2);
    };
    const answer = await raw(lines, { more, at: patient });
    clearInterval(timer);
    // the limit is 4 MB; a busy machine sends some more before it hears of it
    expect([codeOf(answer), nSent > 4e6, nSent < 100e6]).toEqual([413, true, true]);
    await patient.close();
  });

  test("streams of changes end with the server, and so does its program", () => {
    const program = `
      import { startServer } from ${JSON.stringify(new URL("./index.ts", import.meta.url).href)};
      const server = await startServer({ folders: [${JSON.stringify(folder)}], page: ${JSON.stringify(page)}, port: 0 });
      const headers = { authorization: "Bearer " + server.token };
      const response = await fetch("http://127.0.0.1:" + server.port + "/api/folders/1/changes", { headers });
      await response.body.getReader().read();
      const closedAt = Date.now();
      process.on("exit", () => console.log(Date.now() - closedAt));
      await server.close();`;
    const run = spawnSync(process.execPath, ["--import", "tsx", "--input-type=module", "-e", program], {
      encoding: "utf8",
      timeout: 25_000,
    });
    expect(run.stderr).toBe("");
    // a pulse that was waited for would keep it 15 s
    expect(Number(run.stdout)).toBeLessThan(3000);
  });
});

describe("links that lead out of the folder", () => {
  const secret = "chip: Secret\n";
  let outside: string;
  beforeEach(() => {
    outside = join(root, "outside.yaml");
    writeFileSync(outside, secret);
  });

  test("are not opened", async () => {
    const other = join(root, "other");
    mkdirSync(other);
    symlinkSync(outside, join(other, "chip.yaml"));
    const answer = await ask("/api/folders", { method: "POST", body: JSON.stringify({ path: other }) });
    expect(answer.code).toBe(400);
    expect(answer.body).toContain("is a link that leads out of its folder");
  });

  test("are neither read nor written once they stand where the text was", async () => {
    unlinkSync(join(folder, "chip.yaml"));
    symlinkSync(outside, join(folder, "chip.yaml"));
    for (const answer of [await ask(textPath), await put("chip: Mine\n", tagOf(secret)), await ask("/api/folders")])
      expect(answer.body).not.toContain("Secret");
    expect(readFileSync(outside, "utf8")).toBe(secret);
  });

  test("one that stays inside is followed and kept", async () => {
    mkdirSync(join(folder, "kept"));
    renameSync(join(folder, "chip.yaml"), join(folder, "kept", "text.yaml"));
    symlinkSync(join("kept", "text.yaml"), join(folder, "chip.yaml"));
    expect((await put("chip: New\n", tagOf(chip))).code).toBe(200);
    expect(readFileSync(join(folder, "kept", "text.yaml"), "utf8")).toBe("chip: New\n");
  });
});

describe("hostile texts", () => {
  test.each([
    ["a line that is slow to end", `chip: a${" ".repeat(990_000)}b #\n`],
    ["names without end", `${"? ".repeat(400_000)}\n`],
    ["brackets without end", "[".repeat(990_000)],
    [
      "a picture with a program in it",
      `<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><script>alert(1)</script></svg>\n`,
    ],
    [
      "a picture with entities that grow",
      `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">${Array.from("bcdefgh", (name, k) => `<!ENTITY ${name} "${`&${"abcdefg"[k]};`.repeat(10)}">`).join("")}]><svg>&h;</svg>\n`,
    ],
  ])("%s, saved and listed at once, given back as it was and as JSON", async (_, text) => {
    const startedAt = performance.now();
    expect((await put(text, tagOf(chip))).code).toBe(200);
    expect((await ask("/api/folders")).code).toBe(200);
    const { body, headers } = await ask(textPath);
    expect(JSON.parse(body)).toEqual({ text, tag: tagOf(text) });
    expect(headers.get("content-type")).toContain("application/json");
    expect(headers.get("x-content-type-options")).toBe("nosniff");
    // some 50 ms on a free machine; the title line alone would take an hour by its square
    expect(performance.now() - startedAt).toBeLessThan(5000);
  });

  test("what cannot be read is told, and the server goes on", async () => {
    writeFileSync(join(folder, "chip.yaml"), Buffer.from([0x63, 0xff, 0xfe]));
    expect((await ask(textPath)).body).toContain("wanted UTF-8");
    expect((await put("chip: New\n", tagOf(chip))).code).toBe(400);
    rmSync(join(folder, "chip.yaml"));
    mkdirSync(join(folder, "chip.yaml"));
    expect((await ask(textPath)).code).toBe(400);
    rmSync(folder, { recursive: true });
    expect((await ask(textPath)).body).toContain("Cannot find this folder");
    expect((await ask("/api/folders")).code).toBe(200);
  });
});

describe("saving", () => {
  test("of two saves at once from the same state one wins, and the other is handed its text", async () => {
    const texts = ["chip: A\n", "chip: B\n", "chip: C\n"];
    const answers = await Promise.all(texts.map((text) => put(text, tagOf(chip))));
    expect(answers.map(({ code }) => code).sort()).toEqual([200, 409, 409]);
    expect(texts[answers.findIndex(({ code }) => code === 200)]).toBe(onDisk());
    for (const { code, body } of answers)
      if (code === 409) expect(JSON.parse(body)).toEqual({ text: onDisk(), tag: tagOf(onDisk()) });
  });

  test("what a killed program left is swept when the folder is opened", async () => {
    const ended = spawnSync(process.execPath, ["-e", ""]).pid;
    const part = join(folder, `.chip.yaml.${ended}-0123456789ab.part`);
    writeFileSync(part, "half");
    const twoMinutesAgo = Date.now() / 1000 - 120;
    utimesSync(part, twoMinutesAgo, twoMinutesAgo);
    const other = await startServer({ folders: [folder], page, port: 0 });
    await other.close();
    expect(existsSync(part)).toBe(false);
    expect(onDisk()).toBe(chip);
  });
});

const hasIpv6 = Object.values(networkInterfaces()).some((each) => each?.some(({ address }) => address === "::1"));
describe("the loopback address of IPv6", () => {
  test("is silent unless asked for", async () => {
    const found = await new Promise<string>((resolve) => {
      const socket = connect(server.port, "::1", () => resolve("connected"));
      socket.on("error", () => resolve("refused"));
    });
    expect(found).toBe("refused");
  });

  test.runIf(hasIpv6)("answers under its own name when asked for, with the same token", async () => {
    const both = await startServer({ folders: [folder], page, port: 0, alsoIpv6: true });
    const headers = { authorization: `Bearer ${both.token}` };
    for (const host of ["[::1]", "127.0.0.1"])
      expect((await fetch(`http://${host}:${both.port}/api/folders`, { headers })).status).toBe(200);
    expect((await fetch(`http://[::1]:${both.port}/api/folders`)).status).toBe(401);
    await both.close();
  });
});
