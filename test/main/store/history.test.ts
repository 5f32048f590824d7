import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bucketOf, bucketSize, fill, nothingFilled, type Taken } from '../../../src-shared/record/bucket.ts';
import type { HistoryColumns, Reading } from '../../../src-shared/record/reading.ts';
import type { Run } from '../../../src-shared/record/run.ts';
import { asBucket, type BucketRow } from '../../../src-main/store/bucket-row.ts';
import { createChange } from '../../../src-main/store/change.ts';
import { rebuildBuckets } from '../../../src-main/store/recover.ts';
import type { Store } from '../../../src-main/store/store.ts';
import { code, furnished, reading, started, value, wallClock, write } from './furnish.ts';
import { opened, openedWithConnection, temporaryFolder } from './open-for-test.ts';

fc.configureGlobal({ seed: 20_310_314 });

const everything = { fromMs: 0, toMs: 1e9 };
const view = (store: Store, run: Run, range: { fromMs: number; toMs: number }, pixels: number) =>
  value(store.readings.history({ runId: run.runId, channel: 'primary-volts', ...range, pixels }));

/** Readings of channel 0 at the times, with the numbers; null is an overload. */
function readingsAt(store: Store, run: Run, parts: readonly (readonly [atMs: number, volts: number | null])[]) {
  return parts.map(([atMs, volts]) =>
    volts === null
      ? reading(store, run, atMs, 0, { kind: 'overload', value: null, text: 'OL' })
      : reading(store, run, atMs, volts),
  );
}

/** A run of uneven readings with gaps and spikes, the same for the same seed of numbers. */
function unevenRun(store: Store, run: Run, count: number): readonly Reading[] {
  let state = 12345;
  const next = (below: number) => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state % below;
  };
  let atMs = 0;
  return readingsAt(
    store,
    run,
    Array.from({ length: count }, (): readonly [number, number | null] => {
      atMs += next(400) === 0 ? 30_000 : 50 + next(100);
      const chance = next(300);
      return [atMs, chance === 0 ? null : chance === 1 ? 400 + next(90) : 230 + next(100) / 100];
    }),
  );
}

function writeInBatches(store: Store, readings: readonly Reading[], size: number) {
  for (let from = 0; from < readings.length; from += size) write(store, readings.slice(from, from + size));
}

describe('the history of a channel', () => {
  test('is every reading while they are few, with a gap where one was no number', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    write(
      store,
      readingsAt(store, run, [
        [0, 1],
        [100, 2],
        [200, null],
        [300, 4],
      ]),
    );
    expect(view(store, run, everything, 1000)).toEqual({
      runId: run.runId,
      channel: 'primary-volts',
      atMs: [0, 100, 200, 300],
      value: [1, 2, null, 4],
      readings: 4,
      rowsRead: 8,
    });
  });

  test('shows no gap between typed values after a meter that sent fast', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    const sent = Array.from({ length: 200 }, (_, index) => reading(store, run, index * 100, 5));
    const typed = Array.from({ length: 20 }, (_, index) =>
      reading(store, run, 60_000 + index * 30_000, 6 + index, { origin: 'keyboard', text: String(6 + index) }),
    );
    write(store, sent);
    write(store, typed);
    const { value: drawn } = view(store, run, { fromMs: 0, toMs: 700_000 }, 400);
    expect(drawn.filter((each) => each === null)).toHaveLength(1);
    expect(drawn.slice(drawn.indexOf(null) + 1)).toEqual(typed.map((each) => each.value));
  });

  test('shows a gap where the channel was silent for long', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    const quiet = Array.from({ length: 40 }, (_, index) => [index * 500 + (index >= 20 ? 60_000 : 0), 5] as const);
    write(store, readingsAt(store, run, quiet));
    const shown = view(store, run, { fromMs: 0, toMs: 80_000 }, 1000);
    expect(shown.value.filter((volts) => volts === null)).toHaveLength(1);
    expect(shown.atMs[shown.value.indexOf(null)]).toBe((19 * 500 + 20 * 500 + 60_000) / 2);
  });

  test('is empty for a range without readings, and refused for a channel that is not there', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    const ask = { runId: run.runId, channel: 'primary-volts', fromMs: 0, toMs: 10, pixels: 100 };
    expect(value(store.readings.history(ask))).toMatchObject({ atMs: [], value: [], readings: 0, rowsRead: 0 });
    write(
      store,
      readingsAt(store, run, [
        [100, 1],
        [200, 2],
      ]),
    );
    for (const [fromMs, toMs] of [
      [0, 99],
      [201, 300],
      [101, 199],
      [300, 0],
    ] as const) {
      expect(value(store.readings.history({ ...ask, fromMs, toMs }))).toMatchObject({
        atMs: [],
        value: [],
        readings: 0,
      });
    }
    expect(value(store.readings.history({ ...ask, fromMs: 100, toMs: 100 }))).toMatchObject({
      atMs: [100],
      value: [1],
      readings: 1,
    });
    expect(code(store.readings.history({ ...ask, channel: 'watts' }))).toBe('not-found');
    expect(code(store.readings.history({ ...ask, runId: 99 }))).toBe('not-found');
  });

  test('of any range on any number of pixels keeps what matters and reads little', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    const readings = unevenRun(store, run, 70_000);
    writeInBatches(store, readings, 997);
    const endMs = readings.at(-1)?.atMs ?? 0;
    const range = fc
      .tuple(
        fc.integer({ min: -1000, max: Math.ceil(endMs) + 1000 }),
        fc.integer({ min: -1000, max: Math.ceil(endMs) + 1000 }),
      )
      .map(([a, b]) => ({ fromMs: Math.min(a, b), toMs: Math.max(a, b) }));
    fc.assert(
      fc.property(range, fc.integer({ min: 1, max: 2000 }), (asked, pixels) => {
        const inside = readings.filter(({ atMs }) => atMs >= asked.fromMs && atMs <= asked.toMs);
        const shown = view(store, run, asked, pixels);
        expect(shown.readings).toBe(inside.length);
        expect(shown.atMs.length).toBe(shown.value.length);
        expect(shown.atMs.length).toBeLessThanOrEqual(4 * pixels);
        expect(shown.rowsRead).toBeLessThanOrEqual(8 * Math.max(pixels, 32));
        expect(shown.atMs).toEqual([...shown.atMs].sort((a, b) => a - b));
        expectTold(shown, inside);
      }),
      {
        numRuns: 50,
        examples: [
          [{ fromMs: 0, toMs: endMs }, 1],
          [{ fromMs: 0, toMs: endMs }, 1200],
        ],
      },
    );
  });

  /** Every shown number is a reading of the range, no extreme is lost, and an overload leaves a gap. */
  function expectTold(shown: HistoryColumns, inside: readonly Reading[]) {
    const numbers = inside.filter(({ kind }) => kind === 'number');
    const known = new Map(numbers.map(({ atMs, value: volts }) => [atMs, volts]));
    const told = shown.value.flatMap((volts, index) =>
      volts === null ? [] : [[shown.atMs[index] ?? NaN, volts] as const],
    );
    for (const [atMs, volts] of told) expect(known.get(atMs)).toBe(volts);
    const values = numbers.map(({ value: volts }) => volts ?? NaN);
    if (values.length > 0) {
      expect(Math.max(...told.map(([, volts]) => volts))).toBe(Math.max(...values));
      expect(Math.min(...told.map(([, volts]) => volts))).toBe(Math.min(...values));
    }
    if (inside.length > numbers.length) expect(shown.value).toContain(null);
  }

  test.each([
    [100_000, 500],
    [100_000, 5000],
    [60_000, 4000],
    [200_000, 60],
  ])('of %d readings on %d pixels keeps every spike that none within two pixels outdoes', (count, pixels) => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    const apart = Math.ceil((3 * count) / pixels);
    const readings = readingsAt(
      store,
      run,
      Array.from(
        { length: count },
        (_, index) => [index * 10, index % apart === apart >> 1 ? 300 + index / 1e5 : 230] as const,
      ),
    );
    writeInBatches(store, readings, 5000);
    const shown = view(store, run, { fromMs: 0, toMs: count * 10 }, pixels);
    const spikes = readings.filter(({ value: volts }) => (volts ?? 0) >= 300).map(({ atMs }) => atMs);
    expect(spikes.length).toBeGreaterThanOrEqual(Math.floor(pixels / 3) - 1);
    const shownAt = new Set(shown.atMs);
    expect(spikes.filter((atMs) => !shownAt.has(atMs))).toEqual([]);
    expect(shown.rowsRead).toBeLessThanOrEqual(8 * pixels);
  });

  test('shows seldom readings one by one beside a flood of them', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    const dense = Array.from({ length: 36_000 }, (_, index) => [index * 100, 230] as const);
    const sparse = Array.from({ length: 600 }, (_, index) => [3.6e6 + index * 6e4, 20 + index / 10] as const);
    writeInBatches(store, readingsAt(store, run, [...dense, ...sparse]), 5000);
    const shown = view(store, run, { fromMs: 0, toMs: 3.96e7 }, 1000);
    expect(sparse.filter(([atMs]) => !shown.atMs.includes(atMs))).toEqual([]);
    expect(shown.rowsRead).toBeLessThanOrEqual(8000);
  });

  test('of a hidden run between two others is only its own', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const runs = [1, 2, 3].map((volts) => {
      const run = started(store, setting);
      const readings = Array.from({ length: 400 }, (_, index) =>
        reading(store, run, index * 10, volts + (index % 2) * 10, { channel: index % 2 }),
      );
      write(store, readings);
      value(store.runs.end(run.runId, 'ended'));
      return run;
    });
    const [, middle] = runs;
    if (middle === undefined) throw new Error('Three runs were made.');
    expect(new Set(view(store, middle, everything, 40).value)).toEqual(new Set([2]));
  });
});

describe('the closed buckets', () => {
  const bucketsOf = (connection: ReturnType<typeof openedWithConnection>['connection']) =>
    connection
      .prepare<[], BucketRow & { level: number; channel: number }>(
        'SELECT * FROM bucket ORDER BY channel, level, number',
      )
      .all()
      .map((row) => ({ level: row.level, channel: row.channel, number: row.number, bucket: asBucket(row) }));

  test('are what the raw readings come to, however they were cut into batches', () => {
    const cuts = fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1, maxLength: 12 });
    const parts = fc.array(fc.tuple(fc.nat(4000), fc.option(fc.integer({ min: -99, max: 99 }), { freq: 12 })), {
      minLength: 1,
      maxLength: 900,
    });
    fc.assert(
      fc.property(parts, cuts, (steps, lengths) => {
        const { store, connection } = openedWithConnection();
        const run = started(store, furnished(store));
        let atMs = 0;
        const readings = readingsAt(
          store,
          run,
          steps.map(([step, volts]) => [(atMs += step), volts] as const),
        );
        let from = 0;
        for (const length of [...lengths, readings.length]) {
          write(store, readings.slice(from, from + length));
          from += length;
        }
        const raw = readings.map(({ kind, atMs: at, value: volts }): Taken => ({
          kind,
          atUs: Math.round(at * 1000),
          value: volts,
        }));
        const kept = bucketsOf(connection);
        expect(kept.length).toBe(
          [1, 2, 3, 4].reduce((sum, level) => sum + Math.floor(raw.length / bucketSize(level)), 0),
        );
        for (const { level, number, bucket } of kept) {
          const size = bucketSize(level);
          const [first, ...others] = raw.slice(number * size, (number + 1) * size);
          if (first === undefined) throw new Error('A bucket without readings.');
          expect(bucket).toEqual(bucketOf([first, ...others]));
        }
        store.close();
      }),
      { numRuns: 12 },
    );
  });

  test('are rebuilt as they were', () => {
    const { store, connection } = openedWithConnection();
    const run = started(store, furnished(store));
    const readings = unevenRun(store, run, 9000);
    writeInBatches(store, readings, 770);
    const before = bucketsOf(connection);
    expect(before.length).toBe(Math.floor(9000 / 16) + Math.floor(9000 / 256) + 2);
    connection.exec('DELETE FROM bucket WHERE number % 3 = 1');
    value(
      rebuildBuckets({ database: connection, change: createChange(connection), wallNow: wallClock() }, run.runId, 0),
    );
    expect(bucketsOf(connection)).toEqual(before);
    const taken = readings.map(({ kind, atMs, value: volts }): Taken => ({
      kind,
      atUs: Math.round(atMs * 1000),
      value: volts,
    }));
    expect(fill(nothingFilled, taken).closed).toHaveLength(before.length);
  });
});
