import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { startWords } from './start-words.ts';

/** How a try to show the desktop window ended. */
export type Tried =
  /** It showed, or another copy's window was raised, or the program refused to start; and now it has ended. */
  | { readonly kind: 'ended'; readonly exitCode: number }
  /** No window came. Why, in short. */
  | { readonly kind: 'no-window'; readonly why: string };

export interface TryOptions {
  readonly binary: string;
  readonly args: readonly string[];
  /** How long the window may take to show. */
  readonly patienceMs: number;
  /** Says a line as the program's own: on standard error. */
  readonly say: (line: string) => void;
  readonly stopped: AbortSignal;
}

/** Says more on standard error than anybody wants to read: the last line of it, shortened. */
const lastOf = (lines: readonly string[]) => {
  const last = lines.findLast((line) => line.trim() !== '')?.trim() ?? '';
  return last === '' ? '' : `: ${last.slice(0, 200)}`;
};

/**
 * Starts Electron and waits until it ends. An end before its window shows, whatever the exit code, or a window that
 * does not show in time, is no window: the program is ended then and holds nothing any more.
 */
export function tryDesktop({ binary, args, patienceMs, say, stopped }: TryOptions): Promise<Tried> {
  const { ELECTRON_RUN_AS_NODE: _asNode, NODE_OPTIONS: _options, ...env } = process.env;
  return new Promise((resolve) => {
    const child = spawn(binary, args, { stdio: ['ignore', 'pipe', 'pipe'], env });
    let isSettled = false;
    let why: string | null = null;
    const errors: string[] = [];
    const end = (tried: Tried) => {
      clearTimeout(limit);
      stopped.removeEventListener('abort', onStop);
      resolve(tried);
    };
    const limit = setTimeout(() => {
      why = `its window did not show within ${Math.round(patienceMs / 1000)} s`;
      child.kill('SIGKILL');
    }, patienceMs);
    const onStop = () => child.kill('SIGTERM');
    stopped.addEventListener('abort', onStop);

    createInterface({ input: child.stdout }).on('line', (line) => {
      const { shown, raised, refused } = startWords;
      const isRefused = line.startsWith(refused);
      if (line !== shown && line !== raised && !isRefused) return;
      isSettled = true;
      clearTimeout(limit);
      if (line !== shown) say(line);
    });
    createInterface({ input: child.stderr }).on('line', (line) => {
      if (isSettled) say(line);
      else if (errors.push(line) > 50) errors.shift();
    });
    child.once('error', (error) => {
      end({ kind: 'no-window', why: error.message });
    });
    child.once('close', (code, signal) => {
      if (isSettled || stopped.aborted) end({ kind: 'ended', exitCode: code ?? 1 });
      else end({ kind: 'no-window', why: why ?? `it ended with ${code ?? signal ?? 'nothing'}${lastOf(errors)}` });
    });
  });
}
