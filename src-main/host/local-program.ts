import { version } from '../../package.json';
import { createApp } from '../app.ts';
import { browserOpener, openBrowser } from './open-browser.ts';
import { runLocal } from './run-local.ts';
import { runtimeWarning } from './runtime-warning.ts';
import { readStartOptions } from './start-options.ts';
import { stopOnSignals } from './stop-signals.ts';

const say = (line: string) => {
  process.stderr.write(`${line}\n`);
};

/**
 * Starts the program on the local host, with its built pages in that folder. Standard output carries the one line with
 * the address, and nothing else.
 */
export async function startLocalProgram(pages: string): Promise<void> {
  const chosen = readStartOptions(process.argv.slice(2));
  if (!chosen.ok) {
    say(chosen.failure.message);
    process.exitCode = 2;
    return;
  }
  const warning = runtimeWarning(process.versions);
  if (warning !== null) say(warning);

  const running = await runLocal({
    chosen: chosen.value,
    create: (folder, deliver) =>
      createApp({
        folder,
        version,
        warning,
        deliver,
        log: say,
        acceptLog: process.env['TURNWRIGHT_ACCEPT_LOG'],
        lot: process.env['TURNWRIGHT_LOT'],
      }),
    pages,
    log: say,
    checkReplies: process.env['TURNWRIGHT_CHECK_REPLIES'] === '1' || process.env['NODE_ENV'] === 'development',
  });
  if (!running.ok) {
    say(running.failure.message);
    process.exitCode = 1;
    return;
  }
  const { url } = running.value;
  stopOnSignals(
    process,
    () => running.value.close(),
    say,
    () => performance.now(),
  );
  process.stdout.write(`Turnwright is at ${url}\n`);
  if (chosen.value.opensBrowser) openBrowser(url, browserOpener(process.platform), say);
}
