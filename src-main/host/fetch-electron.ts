import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { electronBinary } from './electron-binary.ts';

export interface FetchOptions {
  /** The folder of the package `electron`. */
  readonly folder: string;
  /** The longest time in which nothing arrives, before the first byte and after. */
  readonly patienceMs: number;
  readonly lookEveryMs: number;
  readonly say: (line: string) => void;
  /** Ends the fetching when it aborts. */
  readonly stopped: AbortSignal;
}

/** Bytes in everything below a folder that may change meanwhile. */
function bytesBelow(folder: string): number {
  try {
    return readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .reduce((sum, { parentPath, name }) => sum + statSync(join(parentPath, name)).size, 0);
  } catch {
    return 0;
  }
}

/**
 * Fetches Electron's program by the package's own script and gives its path. Fails with `not-found` and a reason in
 * short when the download does not begin in time, stands still, or ends without it. What it left half done is no
 * obstacle to the next try.
 */
export async function fetchElectron(options: FetchOptions): Promise<Outcome<string>> {
  const { folder, patienceMs, lookEveryMs, say, stopped } = options;
  // The script downloads into the folder for temporary files: in one of our own, its first bytes can be seen.
  const arrivals = mkdtempSync(join(tmpdir(), 'turnwright-fetch-'));
  const child = spawn(process.execPath, [join(folder, 'install.js')], {
    stdio: 'ignore',
    env: { ...process.env, TMPDIR: arrivals, TEMP: arrivals, TMP: arrivals, ELECTRON_GET_NO_PROGRESS: '1' },
  });
  const bytes = () => bytesBelow(arrivals) + bytesBelow(join(folder, 'dist'));
  const before = bytes();
  let seen = before;
  let seenAtMs = performance.now();
  let why = 'could not be fetched';
  const giveUp = (reason: string) => {
    why = reason;
    child.kill('SIGKILL');
  };
  const look = setInterval(() => {
    const now = bytes();
    if (now !== seen) {
      if (seen === before) say('Fetching the desktop window, once (about 120 MB) ...');
      seen = now;
      seenAtMs = performance.now();
    } else if (performance.now() - seenAtMs >= patienceMs) {
      const seconds = Math.round(patienceMs / 1000);
      giveUp(seen === before ? `did not begin to arrive within ${seconds} s` : `stopped arriving for ${seconds} s`);
    }
  }, lookEveryMs);
  const onStop = () => {
    giveUp('was called off');
  };
  stopped.addEventListener('abort', onStop);
  await new Promise<void>((resolve) => {
    child.once('error', () => {
      resolve();
    });
    child.once('exit', () => {
      resolve();
    });
  });
  clearInterval(look);
  stopped.removeEventListener('abort', onStop);
  rmSync(arrivals, { recursive: true, force: true });
  const binary = electronBinary(folder);
  return binary === null ? failed('not-found', why) : done(binary);
}
