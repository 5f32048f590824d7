import Database from 'better-sqlite3';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { furnished, reading, started, value, write } from './furnish.ts';
import { opened, temporaryFolder } from './open-for-test.ts';

fc.configureGlobal({ seed: 20_310_314 });

/** Below 32 pixels a view may read what 32 would: the ends of a range alone take more than a few rows. */
const fewestPixels = 32;
const rowsAPixel = 8;

/** A connection whose statements count the rows that they hand out. */
function counting() {
  const count = { rows: 0 };
  const connect = (file: string): Database.Database => {
    const database = new Database(file, { timeout: 1000 });
    const prepare = database.prepare.bind(database);
    database.prepare = ((sql: string) => {
      const statement = prepare(sql);
      const [all, get] = [statement.all.bind(statement), statement.get.bind(statement)];
      statement.all = (...parameters: unknown[]) => {
        const rows = all(...parameters);
        count.rows += rows.length;
        return rows;
      };
      statement.get = (...parameters: unknown[]) => {
        const row = get(...parameters);
        count.rows += row === undefined ? 0 : 1;
        return row;
      };
      return statement;
    }) as typeof database.prepare;
    return database;
  };
  return { count, connect };
}

test('any view that a chart asks for, moved, zoomed or whole, reads at most eight rows a pixel, counted at the database', () => {
  const { count, connect } = counting();
  const store = opened(temporaryFolder(), { connect });
  const run = started(store, furnished(store));
  const total = 120_000;
  // Quick, slow and quick again, with a pause: readings at uneven times.
  const timeOf = (index: number) =>
    index * 20 + (index > 40_000 ? 600_000 : 0) + (index > 80_000 ? (index - 80_000) * 180 : 0);
  for (let from = 0; from < total; from += 10_000) {
    write(
      store,
      Array.from({ length: 10_000 }, (_, step) => reading(store, run, timeOf(from + step), 230 + (step % 50) / 10)),
    );
  }
  const lastMs = timeOf(total - 1);
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(share, share, fc.integer({ min: 1, max: 4096 }), (from, width, pixels) => {
      // As the chart asks: half as much again on both sides, and wider than the run where all of it is shown.
      const span = Math.max(1, width ** 3 * lastMs);
      const [fromMs, toMs] = [from * lastMs - span / 2, from * lastMs + 1.5 * span];
      count.rows = 0;
      const view = value(store.readings.history({ runId: run.runId, channel: 'primary-volts', fromMs, toMs, pixels }));
      // One of them is the number of the channel, which is no row of a reading or a bucket.
      expect(count.rows - 1).toBeLessThanOrEqual(rowsAPixel * Math.max(pixels, fewestPixels));
      expect(count.rows - 1).toBe(view.rowsRead);
      expect(view.atMs.length).toBeLessThanOrEqual(4 * pixels);
    }),
    { numRuns: 150 },
  );
});
