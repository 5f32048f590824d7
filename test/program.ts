import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '..');

/** The built program running as its own process, as a person starts it. */
export interface Program {
  /** The address with its key. */
  readonly url: string;
  readonly dataFolder: string;
  readonly process: ChildProcess;
  /** Everything it said on standard error so far. */
  said(): string;
  /** Asks it to end and waits until it has. Returns its exit code. */
  stop(): Promise<number | null>;
  /** Ends it as the system would: no warning, no cleaning up. */
  kill(): Promise<void>;
}

/** Starts the built local host on a free port and waits for its address. */
export async function startProgram(options: { dataFolder: string; env?: NodeJS.ProcessEnv }): Promise<Program> {
  const child = spawn(
    process.execPath,
    [join(root, 'out/main/local.js'), '--no-open', '--local', '--port', '0', '--data', options.dataFolder],
    { cwd: root, stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, ...options.env } },
  );
  let errors = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => (errors += text));
  const url = await new Promise<string>((resolveUrl, reject) => {
    let output = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      output += text;
      const found = /^Turnwright is at (http:\S+)$/m.exec(output);
      if (found?.[1] !== undefined) resolveUrl(found[1]);
    });
    child.once('exit', (code) => {
      reject(new Error(`The program ended with ${code} before it answered: ${errors}`));
    });
  });
  const ended = once(child, 'exit');
  return {
    url,
    dataFolder: options.dataFolder,
    process: child,
    said: () => errors,
    stop: async () => {
      child.kill('SIGTERM');
      await ended;
      return child.exitCode;
    },
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
    },
  };
}

/** An empty folder for one test's data, and how to be rid of it. */
export function dataFolder(): { path: string; remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'turnwright-e2e-'));
  return {
    path,
    remove: () => {
      rmSync(path, { recursive: true, force: true });
    },
  };
}
