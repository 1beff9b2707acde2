/** Starts the server on the loopback address with a token of its own. */
import { randomBytes } from "node:crypto";
import type { Server } from "node:http";
import { serve } from "@hono/node-server";
import { Folders } from "./folders.ts";
import { readPageFiles } from "./page-files.ts";
import { createRoutes } from "./routes.ts";

export interface ServerOptions {
  /** Chip folders to open at once, the first in view. */
  readonly folders: readonly string[];
  /** Folder of the built page. */
  readonly page: string;
  /** 0 for any that is free. */
  readonly port: number;
  /** Answers on the loopback address of IPv6 as well, at the same port. */
  readonly alsoIpv6?: boolean;
  /** A request must be there whole within this time [ms]. */
  readonly requestTimeout?: number;
}

export interface RunningServer {
  /** Where a browser goes, token included. */
  readonly address: string;
  readonly port: number;
  readonly token: string;
  close(): Promise<void>;
}

const loopback = "127.0.0.1";
const loopbackIpv6 = "::1";
const usualTimeout = 30_000;

type Fetch = Parameters<typeof serve>[0]["fetch"];

/** Listens on one address. Throws the error of the system where the port is taken. */
function listen(
  fetch: Fetch,
  at: { hostname: string; port: number; requestTimeout: number },
): Promise<{ server: Server; port: number }> {
  const { requestTimeout } = at;
  const serverOptions = { requestTimeout, headersTimeout: requestTimeout, connectionsCheckingInterval: requestTimeout / 4 };
  return new Promise((resolve, reject) => {
    const started = serve({ fetch, hostname: at.hostname, port: at.port, serverOptions }, (info) =>
      resolve({ server: started as Server, port: info.port }),
    );
    started.on("error", reject);
  });
}

const close = (server: Server): Promise<void> =>
  new Promise((resolve) => {
    server.close(() => resolve());
    server.closeAllConnections();
  });

/** Throws InputError where a folder cannot be opened, and the error of the system where the port is taken. */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const { requestTimeout = usualTimeout, alsoIpv6 = false } = options;
  const folders = new Folders();
  for (const path of options.folders) await folders.open(path);
  const token = randomBytes(32).toString("base64url");
  const hosts: string[] = [];
  const ended = new AbortController();
  const app = createRoutes({ folders, files: readPageFiles(options.page), hosts, token, ended: ended.signal });
  const { server, port } = await listen(app.fetch, { hostname: loopback, port: options.port, requestTimeout });
  hosts.push(`${loopback}:${port}`, `localhost:${port}`);
  const servers = [server];
  if (alsoIpv6) {
    try {
      servers.push((await listen(app.fetch, { hostname: loopbackIpv6, port, requestTimeout })).server);
    } catch (error) {
      await close(server);
      throw error;
    }
    hosts.push(`[${loopbackIpv6}]:${port}`);
  }
  return {
    address: `http://${loopback}:${port}/#predict&token=${token}`,
    port,
    token,
    close: async () => {
      ended.abort();
      await Promise.all(servers.map(close));
    },
  };
}
