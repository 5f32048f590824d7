import Database from 'better-sqlite3';
import { mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Store } from '../../src-main/store/store.ts';
import type { Run } from '../../src-shared/record/run.ts';
import { longReading, openBenchStore, startLongRun, value } from './long-run.ts';
import { median, type BenchRow } from './row.ts';

const few = 10_000;
const many = 10_000_000;
const viewRounds = 7;
const csvReadings = 400_000;
const csvRounds = 3;
const onePair = [
  { channel: 'primary-volts', unit: 'V' },
  { channel: 'secondary-volts', unit: 'V' },
] as const;

let wall = Date.UTC(2031, 2, 14, 9);
const wallNow = () => (wall += 1);

/** A run with so many readings, on as many channels as it has, by turns. */
function fill(store: Store, run: Run, count: number): void {
  const size = 20_000;
  for (let from = 0; from < count; from += size) {
    const readings = Array.from({ length: Math.min(size, count - from) }, (_, step) => {
      const channel = (from + step) % run.channels.length;
      return longReading(run, from + step + 1, channel, (from + step) * 2, 230);
    });
    value(store.readings.writeBatch({ readings, events: [] }));
  }
}

/** A folder with a run of so many readings, closed again; the run's number. */
async function recordOf(folder: string, count: number, channels: typeof onePair | readonly [(typeof onePair)[0]]) {
  const store = await openBenchStore(folder, wallNow);
  const run = startLongRun(store, channels);
  fill(store, run, count);
  store.close();
  return run.runId;
}

/** Milliseconds for the first view of everything after the record was opened. */
async function firstView(folder: string, runId: number, count: number): Promise<number> {
  const store = await openBenchStore(folder, wallNow);
  const view = { runId, channel: 'primary-volts', fromMs: 0, toMs: count * 2, pixels: 1200 };
  const from = performance.now();
  value(store.readings.history(view));
  const took = performance.now() - from;
  store.close();
  return took;
}

async function viewRow(folder: string): Promise<BenchRow> {
  const [small, large] = [join(folder, 'few'), join(folder, 'many')];
  const fewRun = await recordOf(small, few, [onePair[0]]);
  const manyRun = await recordOf(large, many, [onePair[0]]);
  const took: { few: number; many: number }[] = [];
  // The first opening ends the interrupted run and fills the system's cache for both.
  await firstView(small, fewRun, few);
  await firstView(large, manyRun, many);
  for (let round = 0; round < viewRounds; round += 1) {
    took.push({ few: await firstView(small, fewRun, few), many: await firstView(large, manyRun, many) });
  }
  const measured = median(took.map((each) => each.many));
  const baseline = median(took.map((each) => each.few));
  const ratio = measured / baseline;
  return {
    name: 'runs: first view of 10 million readings, against 10 thousand',
    value: measured,
    unit: 'ms',
    baseline,
    ratio,
    goal: 2,
    holds: ratio <= 2,
  };
}

/** Seconds to look at the same columns of every reading of a run, and do nothing else with them. */
function lookOnly(file: string, runId: number): number {
  const database = new Database(file, { readonly: true });
  const all = database.prepare<[number]>(`
    SELECT reading_id, channel, at_us, wall_offset_ms, value, resolution, text, range_index, form
    FROM reading WHERE run_id = ? ORDER BY reading_id`);
  const from = performance.now();
  let seen = 0;
  for (const row of all.iterate(runId)) seen += row === null ? 0 : 1;
  const took = (performance.now() - from) / 1000;
  database.close();
  if (seen !== csvReadings) throw new Error(`${seen} readings were looked at.`);
  return took;
}

async function csvRow(folder: string): Promise<BenchRow> {
  const { writeCsv } = await import('../../src-main/export/write-csv.ts');
  const { openReader } = await import('../../src-main/store/read-record.ts');
  const runId = await recordOf(folder, csvReadings, onePair);
  const file = join(folder, 'record.sqlite');
  const to = join(folder, 'made.csv');
  const took = { ours: [] as number[], bare: [] as number[] };
  let size = 0;
  for (let round = 0; round < csvRounds; round += 1) {
    took.bare.push(lookOnly(file, runId));
    const reader = openReader(file);
    const from = performance.now();
    reader.together((parts) => writeCsv(parts, runId, to, () => undefined));
    took.ours.push((performance.now() - from) / 1000);
    reader.close();
    size = statSync(to).size;
    rmSync(to);
  }
  if (size < csvReadings * 40) throw new Error(`The file has only ${size} bytes.`);
  const ratio = median(took.bare) / median(took.ours);
  return {
    name: 'runs: CSV to a file, against looking at the same columns alone',
    value: csvReadings / median(took.ours),
    unit: 'readings/s',
    baseline: csvReadings / median(took.bare),
    ratio,
    goal: 0.2,
    holds: ratio >= 0.2,
  };
}

/** What it costs to look at a long run and to take it away, in a folder on the project's disk. */
export async function runRows(): Promise<BenchRow[]> {
  const cache = join(import.meta.dirname, '..', '..', 'node_modules', '.cache');
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, 'bench-runs-'));
  try {
    const csv = await csvRow(join(folder, 'csv'));
    return [await viewRow(folder), csv];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
