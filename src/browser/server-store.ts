/** Chip folders behind the server that served this page. */
import type { ChipStore, FolderEntry, TextState } from "./chip-store.ts";

/** Pauses before a lost stream of changes is sought again [ms]. */
const [firstPause, longestPause] = [250, 4000];

interface Problem {
  readonly problem?: string;
}

export function serverStore(token: string): ChipStore {
  const ask = (path: string, options: { method?: string; body?: unknown; signal?: AbortSignal } = {}): Promise<Response> =>
    fetch(`/api/${path}`, {
      method: options.method ?? "GET",
      headers: { authorization: `Bearer ${token}`, ...(options.body !== undefined && { "content-type": "application/json" }) },
      ...(options.body !== undefined && { body: JSON.stringify(options.body) }),
      ...(options.signal !== undefined && { signal: options.signal }),
    });
  const read = async <T>(response: Response): Promise<T> => {
    if (!response.ok)
      throw new Error(
        ((await response.json()) as Problem).problem ?? `Cannot reach the folder: the server answered ${response.status}`,
      );
    return (await response.json()) as T;
  };
  const readText = async (id: string): Promise<TextState> => read(await ask(`folders/${id}/text`));
  return {
    kind: "server",
    list: async () => read(await ask("folders")),
    read: readText,
    save: async (id, state) => {
      try {
        const response = await ask(`folders/${id}/text`, { method: "PUT", body: state });
        const answer = (await response.json()) as Partial<TextState> & Problem;
        if (response.ok) return { outcome: "saved", tag: answer.tag! };
        if (answer.text !== undefined) return { outcome: "changed elsewhere", text: answer.text, tag: answer.tag! };
        return { outcome: "failed", reason: answer.problem ?? `The server answered ${response.status}.` };
      } catch {
        return {
          outcome: "failed",
          reason: "Not saved: the server does not answer. Start it again; your text is kept here till then.",
        };
      }
    },
    watch: (id, listener) => {
      const ended = new AbortController();
      void follow(async () => {
        const response = await ask(`folders/${id}/changes`, { signal: ended.signal });
        if (!response.ok || response.body === null) return;
        // what changed before the watch began would be missed
        listener(await readText(id));
        for await (const line of linesOf(response.body)) if (line !== "") listener(JSON.parse(line) as TextState);
      }, ended.signal);
      return () => ended.abort();
    },
    open: async (path) => read<FolderEntry>(await ask("folders", { method: "POST", body: { path } })),
    create: async (path, name) => read<FolderEntry>(await ask("folders", { method: "POST", body: { path, name } })),
  };
}

/** Listens again and again until it is ended: a server that was started anew is found again. */
async function follow(listen: () => Promise<void>, ended: AbortSignal): Promise<void> {
  let pause = firstPause;
  while (!ended.aborted) {
    const startedAt = performance.now();
    await listen().catch(() => undefined);
    pause = performance.now() - startedAt > longestPause ? firstPause : Math.min(longestPause, pause * 2);
    if (!ended.aborted) await new Promise((resolve) => setTimeout(resolve, pause));
  }
}

async function* linesOf(body: ReadableStream<Uint8Array>): AsyncGenerator<string> {
  const reader = body.pipeThrough(new TextDecoderStream() as ReadableWritablePair<string, Uint8Array>).getReader();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    const lines = (rest + value).split("\n");
    rest = lines.pop()!;
    yield* lines;
  }
}
