import Database from 'better-sqlite3';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { openBrowser, openPage } from '../e2e/browser.ts';
import { Person } from '../e2e/person.ts';
import { goLive, type LiveBench } from '../live-bench.ts';
import { dataFolder, startProgram } from '../program.ts';
import type { BenchRow } from './row.ts';

const lineCount = 40_000;
/** Ten meters at ten a second fill a batch of 200 ms with twenty. */
const batchSize = 20;
const paintedCount = 150;
const paintGoalMs = 100;

/** The same rows, written by better-sqlite3 alone in batches of a bench's size with the same durability, in rows a second. */
function bareRowsPerSecond(folder: string): number {
  const file = new Database(join(folder, 'bare.sqlite'));
  file.pragma('journal_mode = WAL');
  file.pragma('synchronous = FULL');
  file.exec('CREATE TABLE reading (id INTEGER PRIMARY KEY, at REAL, wall INTEGER, value REAL, text TEXT) STRICT');
  const insert = file.prepare('INSERT INTO reading VALUES (?, ?, ?, ?, ?)');
  const write = file.transaction((from: number) => {
    for (let id = from; id < from + batchSize; id += 1) insert.run(id, id / 7, id, 118.6, '118.6 V');
  });
  const startedMs = performance.now();
  for (let from = 1; from <= lineCount; from += batchSize) write(from);
  const rate = (lineCount / (performance.now() - startedMs)) * 1000;
  file.close();
  return rate;
}

/** Lines through a pseudo terminal, the guard, the recorder and the store, until the last is on disk. */
async function storedPerSecond(bench: LiveBench, folder: string): Promise<number> {
  const file = new Database(join(folder, 'record.sqlite'), { readonly: true });
  const count = file.prepare('SELECT count(*) FROM reading').pluck();
  const before = count.get() as number;
  const startedMs = performance.now();
  await bench.primary.write('118.6 V\r\n'.repeat(lineCount));
  while ((count.get() as number) - before < lineCount) {
    if (performance.now() - startedMs > 60_000) throw new Error('Not every line reached the record within a minute.');
    await setTimeout(5);
  }
  const rate = (lineCount / (performance.now() - startedMs)) * 1000;
  file.close();
  return rate;
}

/** Times from a line written by the meter to its figure painted in the browser, in ms, sorted. */
async function paintTimes(bench: LiveBench, url: string): Promise<readonly number[]> {
  const browser = await openBrowser();
  const { page } = await openPage(browser, url);
  await new Person(page).go('Bench');
  await page.getByRole('region', { name: 'Primary volts' }).waitFor();
  await page.evaluate(() => {
    const seen: Record<string, number> = {};
    Object.assign(window, { seen });
    const look = () => {
      const region = document.querySelector('section[aria-label="Primary volts"]');
      const figure = /\d+\.\d/.exec(region?.textContent ?? '')?.[0];
      if (figure !== undefined) seen[figure] ??= performance.timeOrigin + performance.now();
      requestAnimationFrame(look);
    };
    look();
  });
  const written = new Map<string, number>();
  for (let line = 0; line < paintedCount; line += 1) {
    const figure = (100 + line / 10).toFixed(1);
    written.set(figure, performance.timeOrigin + performance.now());
    await bench.primary.write(`${figure} V\r\n`);
    await bench.coil.write('9.870 V\r\n');
    await setTimeout(170 + (line % 7) * 9);
  }
  await setTimeout(500);
  const seen = await page.evaluate(() => (window as unknown as { seen: Record<string, number> }).seen);
  await browser.close();
  // The figures only rise: one that a later one overtook before it was painted waited until that one was.
  const painted = Object.entries(seen)
    .map(([figure, atMs]) => ({ figure: Number(figure), atMs }))
    .sort((one, other) => one.figure - other.figure);
  return [...written]
    .flatMap(([figure, atMs]) => {
      const shown = painted.find((one) => one.figure >= Number(figure));
      return shown === undefined ? [] : [shown.atMs - atMs];
    })
    .sort((one, other) => one - other);
}

/** From a line on the wire to the record, and to the figure that a person reads. */
export async function lineRows(): Promise<readonly BenchRow[]> {
  const folder = dataFolder();
  try {
    const program = await startProgram({ dataFolder: folder.path });
    const bench = await goLive(program);
    const painted = await paintTimes(bench, program.url);
    const stored = await storedPerSecond(bench, folder.path);
    const bare = bareRowsPerSecond(folder.path);
    await program.stop();
    await bench.close();
    if (painted.length < paintedCount)
      throw new Error(`Only ${painted.length} of ${paintedCount} figures were painted.`);
    const p99 = painted[Math.floor(painted.length * 0.99)] ?? Number.NaN;
    return [
      {
        name: 'line to store',
        value: stored,
        unit: 'lines/s',
        baseline: bare,
        ratio: stored / bare,
        goal: 0.2,
        holds: stored / bare >= 0.2,
      },
      {
        name: 'line to painted figure, p99',
        value: p99,
        unit: 'ms',
        baseline: null,
        ratio: null,
        goal: paintGoalMs,
        holds: p99 <= paintGoalMs,
      },
    ];
  } finally {
    folder.remove();
  }
}
