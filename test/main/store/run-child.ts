import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { onTestFinished } from 'vitest';

/** Starts the child on a folder: its lines as they come, and a kill that no program can refuse. */
export function startChild(what: 'hold' | 'write', folder: string) {
  const here = import.meta.dirname;
  const child = spawn(
    process.execPath,
    ['--no-warnings', '--import', join(here, 'raw-text.mjs'), join(here, 'child.ts'), what, folder],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  );
  const lines: string[] = [];
  const input = createInterface({ input: child.stdout });
  const ended = once(input, 'close');
  const waiting = new Set<() => void>();
  input.on('line', (line) => {
    lines.push(line);
    for (const look of waiting) look();
  });
  onTestFinished(() => void child.kill('SIGKILL'));

  /** Resolves with the first line, from now on or before, that fits. */
  const line = (fits: (line: string) => boolean) =>
    new Promise<string>((resolve) => {
      const look = () => {
        const found = lines.find(fits);
        if (found === undefined) return;
        waiting.delete(look);
        resolve(found);
      };
      waiting.add(look);
      look();
    });

  /** Kills it and waits until it is gone and its last line was read. */
  async function kill() {
    child.kill('SIGKILL');
    await ended;
    if (child.exitCode === null && child.signalCode === null) await once(child, 'exit');
    return child.signalCode;
  }
  return { lines, line, kill, ended };
}
