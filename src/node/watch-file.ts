/**
 * Tells when a file has changed and come to rest. Editors write in many ways: in place, emptied first, twice in a row, or as a new
 * file renamed over the old one. Whatever the way, one look is asked for, once the file has been still for a moment.
 * The system's own alarm is heard on the folder, because a file that is replaced takes its alarm along; a slow comparison of the
 * file's mark covers folders without alarms (network drives, links, a folder that was itself replaced).
 * Main test: watch-file.test.ts.
 */

import { type FSWatcher, watch } from "node:fs";
import { stat } from "node:fs/promises";
import { basename, dirname } from "node:path";
import { setTimeout } from "node:timers/promises";

export interface FileWatchTimes {
  /** The file must be unchanged this long before a look [ms]. */
  readonly quiet: number;
  /** A file that is missing or empty may be on its way back: it must stay so this long [ms]. */
  readonly patience: number;
  /** Time between two comparisons without alarm [ms]. */
  readonly pollEvery: number;
}

const usualTimes: FileWatchTimes = { quiet: 60, patience: 500, pollEvery: 1000 };

interface Mark {
  /** Changes whenever the file does, as far as the file system tells. */
  readonly text: string;
  readonly isEmpty: boolean;
}

async function markOf(path: string): Promise<Mark> {
  try {
    const { dev, ino, size, mtimeNs } = await stat(path, { bigint: true });
    return { text: `${dev} ${ino} ${size} ${mtimeNs}`, isEmpty: size === 0n };
  } catch (error) {
    return { text: (error as NodeJS.ErrnoException).code ?? "unknown", isEmpty: true };
  }
}

class FileWatch {
  private readonly path: string;
  private readonly look: () => Promise<void>;
  private readonly times: FileWatchTimes;
  private readonly stopped = new AbortController();
  private alarm: FSWatcher | undefined;
  private isSettling = false;
  private wasTouched = false;
  /** Mark of the file at the last look: the alarm and the poll may both tell of one change. */
  private lookedAt: string | undefined;

  constructor(path: string, look: () => Promise<void>, times: FileWatchTimes) {
    this.path = path;
    this.look = look;
    this.times = times;
    this.hearAlarm();
    void this.poll();
  }

  private hearAlarm(): void {
    const name = basename(this.path);
    try {
      this.alarm = watch(dirname(this.path), { persistent: false }, (_event, changed) => {
        if (changed === null || changed === name) this.touch();
      });
      // The folder was removed, or the system can watch no more: the poll goes on alone.
      this.alarm.on("error", () => this.alarm?.close());
    } catch {
      this.alarm = undefined;
    }
  }

  /** Waits; false when the watch was stopped meanwhile. */
  private async wait(time: number): Promise<boolean> {
    await setTimeout(time, undefined, { signal: this.stopped.signal, ref: false }).catch(() => undefined);
    return !this.stopped.signal.aborted;
  }

  private async poll(): Promise<void> {
    let seen = await markOf(this.path);
    while (await this.wait(this.times.pollEvery)) {
      const now = await markOf(this.path);
      if (now.text !== seen.text) this.touch();
      seen = now;
    }
  }

  private touch(): void {
    this.wasTouched = true;
    if (this.isSettling || this.stopped.signal.aborted) return;
    this.isSettling = true;
    void this.settle().finally(() => {
      this.isSettling = false;
    });
  }

  private async settle(): Promise<void> {
    while (this.wasTouched) {
      this.wasTouched = false;
      let seen = await markOf(this.path);
      let stillFor = 0;
      while (stillFor < (seen.isEmpty ? this.times.patience : this.times.quiet)) {
        if (!(await this.wait(this.times.quiet))) return;
        const now = await markOf(this.path);
        stillFor = now.text === seen.text ? stillFor + this.times.quiet : 0;
        seen = now;
      }
      // What touched the file so far is in this look; what touches it from here on asks for another.
      this.wasTouched = false;
      if (seen.text === this.lookedAt) continue;
      this.lookedAt = seen.text;
      await this.look();
      if ((await markOf(this.path)).text !== seen.text) this.wasTouched = true;
    }
  }

  stop(): void {
    this.stopped.abort();
    this.alarm?.close();
  }
}

/** Calls `look` each time the file may have changed and has come to rest; never twice at once. Answers the way to stop. */
export function watchFile(path: string, look: () => Promise<void>, times: Partial<FileWatchTimes> = {}): () => void {
  const fileWatch = new FileWatch(path, look, { ...usualTimes, ...times });
  return () => fileWatch.stop();
}
