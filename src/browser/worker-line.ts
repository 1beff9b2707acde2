/**
 * A line to one worker: requests in order, each answered once or more; the newest question waits its turn while one is under way, and
 * older ones that wait are dropped, so that every answer is about the newest pointer.
 */
import type { Reply, Request } from "#workbench";

interface Letter {
  readonly id: number;
  readonly request: Request;
}

interface Answered {
  readonly id: number;
  readonly reply: Reply;
  readonly isLast: boolean;
}

type Listener = (reply: Reply, isLast: boolean) => void;

export class WorkerLine {
  private readonly listeners = new Map<number, Listener>();
  private id = 0;

  constructor(private readonly worker: Worker) {
    worker.onmessage = ({ data }: MessageEvent<Answered>) => {
      const listener = this.listeners.get(data.id);
      if (data.isLast) this.listeners.delete(data.id);
      listener?.(data.reply, data.isLast);
    };
  }

  /** Asks; every reply is told, the last one also returned. */
  ask(request: Request, tell?: (reply: Reply) => void): Promise<Reply> {
    const id = ++this.id;
    return new Promise((resolve) => {
      this.listeners.set(id, (reply, isLast) => {
        tell?.(reply);
        if (isLast) resolve(reply);
      });
      this.worker.postMessage({ id, request } satisfies Letter);
    });
  }
}

/** The newest of a fast row of questions: one under way, one waiting. */
export class Newest<Q> {
  private isBusy = false;
  private waiting: Q | undefined;

  constructor(private readonly work: (question: Q) => Promise<void>) {}

  ask(question: Q): void {
    this.waiting = question;
    if (!this.isBusy) void this.run();
  }

  private async run(): Promise<void> {
    this.isBusy = true;
    while (this.waiting !== undefined) {
      const question = this.waiting;
      this.waiting = undefined;
      await this.work(question);
    }
    this.isBusy = false;
  }
}

/** Answers letters in a worker. */
export function answerLetters(answer: (request: Request, tell: (reply: Reply) => void) => Promise<Reply>): void {
  const scope = globalThis as unknown as {
    onmessage: ((event: MessageEvent<Letter>) => void) | null;
    postMessage(answered: Answered): void;
  };
  scope.onmessage = ({ data: { id, request } }) => {
    void answer(request, (reply) => scope.postMessage({ id, reply, isLast: false })).then((reply) =>
      scope.postMessage({ id, reply, isLast: true }),
    );
  };
}
