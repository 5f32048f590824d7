import type { Browser, Page } from 'playwright-core';
import { dataFolder, startProgram } from '../program.ts';
import { BenchPage } from './bench-page.ts';
import { RunBench } from './bench-runs.ts';
import { openPage } from './browser.ts';

/** A program of its own with somebody in front of its bench page, for several walks. */
export interface Place {
  readonly page: Page;
  readonly bench: RunBench;
  readonly at: BenchPage;
  /** Opens a session as its bench does; the person is there when the page shows it. */
  open(...session: Parameters<RunBench['open']>): Promise<void>;
  /** Proves, confirms and declares power on as its bench does; the person is there when the page shows it. */
  live(): Promise<void>;
  /** Ends it; what it and its page had to complain of. `untroubled` is how it should be. */
  close(): Promise<Complaints>;
}

interface Complaints {
  readonly errors: readonly string[];
  readonly code: number | null;
  readonly misfits: boolean;
}

export const untroubled: Complaints = { errors: [], code: 0, misfits: false };

export async function openPlace(browser: Browser): Promise<Place> {
  const folder = dataFolder();
  const program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  const bench = await RunBench.of(program);
  const { page, context, errors } = await openPage(browser, program.url);
  const close = async () => {
    await context.close();
    await bench.close();
    const code = await program.stop();
    folder.remove();
    return { errors, code, misfits: /does not fit|misfit/.test(program.said()) };
  };
  const at = new BenchPage(page);
  const open = async (...session: Parameters<RunBench['open']>) => {
    const sessionId = await bench.open(...session);
    await at.person.go('Bench');
    await page.getByText(`Session ${sessionId} ·`).waitFor();
  };
  const live = async () => {
    await bench.live();
    await page.getByText('power declared on').waitFor();
  };
  return { page, bench, at, open, live, close };
}
