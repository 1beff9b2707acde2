/** The program that server-survives-kill.campaign.ts kills: serves a chip folder and prints port and token. Arguments: folder, page. */
import { startServer } from "../../src/server/index.ts";

const [folder = ".", page = "."] = process.argv.slice(2);
const { port, token } = await startServer({ folders: [folder], page, port: 0 });
process.stdout.write(`${JSON.stringify({ port, token })}\n`);
