import Database from 'better-sqlite3';
import { mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Store } from '../../src-main/store/store.ts';
import type { Reading } from '../../src-shared/record/reading.ts';
import type { Run } from '../../src-shared/record/run.ts';
import { openBenchStore, value } from './long-run.ts';
import type { BenchRow } from './row.ts';

const channels = ['primary-volts', 'coil-volts', 'line-amps', 'watts', 'winding-temperature'] as const;

/** So many readings are written; ten meters at ten a second fill a batch of 200 ms with twenty. */
const readingsWritten = 200_000;
const batchSize = 20;
const historyReadings = 1_000_000;

let wall = Date.UTC(2031, 2, 14, 9);

function startRun(store: Store): Run {
  const { build } = value(store.cores.add({ label: 'Dimmer core A', shape: 'shell' }));
  const meter = value(
    store.meters.add({
      kind: 'keyboard',
      label: 'Yellow hand meter',
      responding: 'average',
      ranges: [],
      scales: [],
      maxVolts: 300,
      category: null,
      typicalIntervalMs: 1000,
    }),
  );
  const session = value(
    store.sessions.open(
      {
        buildId: build.buildId,
        supply: { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes' },
        fedWindingId: null,
        who: 'Stage workshop',
      },
      false,
    ),
  );
  return value(
    store.runs.start({
      sessionId: session.sessionId,
      procedure: 'heat-run',
      channels: channels.map((channel) => ({
        channel,
        unit: 'V',
        meterId: meter.meterId,
        meterRevisionId: meter.revisionId,
        lockedRange: null,
      })),
      practice: false,
      startedMonoMs: 0,
    }),
  );
}

/** A made-up run: five channels by turns, a slow wave with a step of the last digit. */
function makeReadings(count: number, firstId: number, run: Run): readonly Reading[] {
  return Array.from({ length: count }, (_, index): Reading => {
    const volts = Math.round((230 + 5 * Math.sin(index / 5000)) * 100) / 100;
    return {
      readingId: firstId + index,
      runId: run.runId,
      channel: index % channels.length,
      atMs: index * 2,
      wallMs: run.startedWallMs + index * 2,
      kind: 'number',
      value: volts,
      coupling: 'ac',
      resolution: 0.01,
      text: `${volts.toFixed(2)} V AC`,
      origin: 'meter',
      rangeIndex: 2,
      rangeLocked: true,
      tripped: false,
      bottomOfRange: false,
    };
  });
}

function batchesOf(readings: readonly Reading[], size: number): readonly (readonly Reading[])[] {
  return Array.from({ length: Math.ceil(readings.length / size) }, (_, index) =>
    readings.slice(index * size, (index + 1) * size),
  );
}

/** Seconds that the work takes. */
function secondsOf(work: () => void): number {
  const before = performance.now();
  work();
  return (performance.now() - before) / 1000;
}

/** The same values in one plain table, no index, nothing checked, with the same durability. */
function openPlain(file: string) {
  const database = new Database(file);
  database.pragma('journal_mode = WAL');
  database.pragma('synchronous = FULL');
  database.exec(`CREATE TABLE reading (reading_id INTEGER PRIMARY KEY, run_id INTEGER, channel INTEGER, at_us INTEGER,
    wall_ms INTEGER, kind INTEGER, value REAL, coupling INTEGER, resolution REAL, text TEXT, origin INTEGER,
    range_index INTEGER, flags INTEGER) STRICT`);
  const add = database.prepare('INSERT INTO reading VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)');
  const write = database.transaction((batch: readonly Reading[]) => {
    for (const { readingId, runId, channel, atMs, wallMs, value: volts, resolution, text, rangeIndex } of batch) {
      add.run(readingId, runId, channel, atMs * 1000, wallMs, 0, volts, 1, resolution, text, 0, rangeIndex, 1);
    }
  });
  return { database, write };
}

/** Batches written by the store and by better-sqlite3 alone, by turns, so that both meet the same disk. */
function measureBatches(store: Store, run: Run, folder: string): BenchRow[] {
  const batches = batchesOf(makeReadings(readingsWritten, 1, run), batchSize);
  const plain = openPlain(join(folder, 'plain.sqlite'));
  let ours = 0;
  let theirs = 0;
  let slowest = 0;
  for (const readings of batches) {
    const took = secondsOf(() => value(store.readings.writeBatch({ readings, events: [] })));
    ours += took;
    slowest = Math.max(slowest, took);
    theirs += secondsOf(() => plain.write(readings));
  }
  plain.database.close();
  const ratio = theirs / ours;
  return [
    {
      name: 'store: batches of 20 readings, against better-sqlite3 alone',
      value: readingsWritten / ours,
      unit: 'readings/s',
      baseline: readingsWritten / theirs,
      ratio,
      goal: 0.5,
      holds: ratio >= 0.5,
    },
    informative('store: slowest batch of 20 readings', slowest * 1000, 'ms'),
  ];
}

const informative = (name: string, measured: number, unit: string): BenchRow => ({
  name,
  value: measured,
  unit,
  baseline: null,
  ratio: null,
  goal: null,
  holds: null,
});

/** The first view of a long run, and what it weighs on disk. */
function measureHistory(store: Store, run: Run): BenchRow[] {
  const before = statSync(store.file).size;
  const readings = makeReadings(historyReadings, readingsWritten + 1, run).map((reading, index) => ({
    ...reading,
    channel: 0,
    atMs: 400_000 + index * 2,
  }));
  for (const batch of batchesOf(readings, 10_000)) value(store.readings.writeBatch({ readings: batch, events: [] }));
  const toMs = 400_000 + historyReadings * 2;
  const view = { runId: run.runId, channel: channels[0], fromMs: 0, toMs, pixels: 1200 };
  let rowsRead = 0;
  const first = secondsOf(() => (rowsRead = value(store.readings.history(view)).rowsRead));
  return [
    informative('store: first view of a million readings on 1200 pixels', first * 1000, 'ms'),
    informative('store: rows read for that view', rowsRead, 'rows'),
    informative('store: size of a reading on disk', (statSync(store.file).size - before) / historyReadings, 'bytes'),
  ];
}

/**
 * Measures the store in a folder of its own on the project's disk: the system's temporary folder may be memory, where
 * durability costs nothing and nothing can be said of it.
 */
export async function storeRows(): Promise<BenchRow[]> {
  const cache = join(import.meta.dirname, '..', '..', 'node_modules', '.cache');
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, 'bench-store-'));
  try {
    const store = await openBenchStore(folder, () => (wall += 1));
    const run = startRun(store);
    const rows = [...measureBatches(store, run, folder), ...measureHistory(store, run)];
    store.close();
    return rows;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
