export type { ChipStore, FolderEntry, SaveOutcome, TextState } from "./chip-store.ts";
export { serverStore } from "./server-store.ts";
export { storeWithoutServer } from "./store-without-server.ts";
export { answerLetters, Newest, WorkerLine } from "./worker-line.ts";
