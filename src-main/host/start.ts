import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { tryTheDesktop } from './choose-host.ts';
import { readStartOptions } from './start-options.ts';

const say = (line: string) => {
  process.stderr.write(`${line}\n`);
};

function electronFolder(): string | null {
  try {
    return dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    return null;
  }
}

/** Starts the program in a desktop window where that can be had, else on the local host. */
async function start(): Promise<void> {
  const chosen = readStartOptions(process.argv.slice(2));
  if (chosen.ok) {
    const stopping = new AbortController();
    const stop = () => {
      stopping.abort();
    };
    const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
    for (const signal of signals) process.on(signal, stop);
    const exitCode = await tryTheDesktop({
      chosen: chosen.value,
      surroundings: {
        platform: process.platform,
        env: process.env,
        uid: process.getuid?.() ?? null,
        electronFolder: electronFolder(),
      },
      program: join(import.meta.dirname, '..', '..'),
      say,
      stopped: stopping.signal,
    });
    for (const signal of signals) process.off(signal, stop);
    if (exitCode !== null || stopping.signal.aborted) {
      process.exitCode = exitCode ?? 0;
      return;
    }
  }
  // The local host reads the same command line, and says what is wrong with it.
  await import('./local-start.ts');
}

await start();
