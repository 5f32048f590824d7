import { rmSync } from 'node:fs';
import type { Delivered } from '../../src-shared/contract/export-view.ts';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { ReadyFile } from '../export/delivery.ts';
import { freshToken } from './door.ts';
import type { Later } from './timers.ts';

const waitsMs = 60_000;
const waitingAtMost = 8;

/** The path under which files wait to be fetched by the browser. */
export const downloadsPath = '/file/';

export interface Downloads {
  /** Lets a file be fetched once within a minute, by whoever knows its path: 256 bits that go over the contract alone. */
  offer(file: ReadyFile): Outcome<Delivered>;
  /** The file of a path, which is forgotten by that; null when there is none. Whoever takes it removes the file. */
  take(path: string): ReadyFile | null;
  /** Removes what waits. */
  close(): void;
}

/** Files on their way from the program to the browser of this computer. */
export function createDownloads(later: Later): Downloads {
  const waiting = new Map<string, { readonly file: ReadyFile; readonly stopTimer: () => void }>();

  function forget(path: string): ReadyFile | null {
    const known = waiting.get(path);
    if (known === undefined) return null;
    known.stopTimer();
    waiting.delete(path);
    return known.file;
  }
  function remove(path: string) {
    const file = forget(path);
    if (file !== null) rmSync(file.path, { force: true });
  }
  return {
    offer(file) {
      if (waiting.size >= waitingAtMost) {
        rmSync(file.path, { force: true });
        return failed('busy', 'Too many files wait to be fetched. Wait a minute, then make it again.');
      }
      const address = `${downloadsPath}${freshToken()}`;
      const stopTimer = later(waitsMs, () => {
        remove(address);
      });
      waiting.set(address, { file, stopTimer });
      return done({ kind: 'download', address });
    },
    take: forget,
    close() {
      for (const path of [...waiting.keys()]) remove(path);
    },
  };
}
