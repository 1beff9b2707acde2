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
}

export interface RunningServer {
  /** Where a browser goes, token included. */
  readonly address: string;
  readonly port: number;
  readonly token: string;
  close(): Promise<void>;
}

const loopback = "127.0.0.1";
/** A request must be there whole within this time [ms]. */
const requestTimeout = 30_000;

/** Throws InputError where a folder cannot be opened, and the error of the system where the port is taken. */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const folders = new Folders();
  for (const path of options.folders) await folders.open(path);
  const token = randomBytes(32).toString("base64url");
  const hosts: string[] = [];
  const app = createRoutes({ folders, files: readPageFiles(options.page), hosts, token });
  const { server, port } = await new Promise<{ server: Server; port: number }>((resolve, reject) => {
    const started = serve({ fetch: app.fetch, hostname: loopback, port: options.port }, (info) =>
      resolve({ server: started as Server, port: info.port }),
    );
    started.on("error", reject);
  });
  server.requestTimeout = requestTimeout;
  server.headersTimeout = requestTimeout;
  hosts.push(`${loopback}:${port}`, `localhost:${port}`);
  return {
    address: `http://${loopback}:${port}/#predict&token=${token}`,
    port,
    token,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
