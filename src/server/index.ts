export type { RunningServer, ServerOptions } from "./start-server.ts";
export { startServer } from "./start-server.ts";
