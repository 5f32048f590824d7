import Database from 'better-sqlite3';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { bucketSize } from '../../../src-shared/record/bucket.ts';
import type { Store } from '../../../src-main/store/store.ts';
import { code, furnished, reading, started, value, write } from './furnish.ts';
import { opened, openedWithConnection, temporaryFolder } from './open-for-test.ts';
import { startChild } from './run-child.ts';

const numberIn = (line: string | undefined) => Number(line?.split(' ')[1] ?? 0);

/** What was found after the kill: everything acknowledged is there, and no batch is there in part. */
function expectWhole(store: Store, lines: readonly string[]) {
  const acknowledged = numberIn(lines.findLast((line) => line.startsWith('written')));
  const tried = numberIn(lines.findLast((line) => line.startsWith('trying')));
  const runId = numberIn(lines.find((line) => line.startsWith('run')));
  const readings = [...store.readings.ofRun(runId)];
  expect([acknowledged, tried]).toContain(readings.length);
  expect(readings.map(({ readingId }) => readingId)).toEqual(readings.map((_, index) => index + 1));
  expect(store.events.ofRun(runId)).toHaveLength(readings.length / 50);
  expect(store.opening.lastGuard?.body ?? null).toEqual(
    readings.length === 0 ? null : { kind: 'live', revision: readings.length },
  );
  expect(store.opening.interruptedRunIds).toEqual([runId]);

  const connection = new Database(store.file, { readonly: true });
  expect(connection.pragma('integrity_check')).toEqual([{ integrity_check: 'ok' }]);
  expect(connection.pragma('foreign_key_check')).toEqual([]);
  const buckets = connection.prepare<[], number>('SELECT count(*) FROM bucket').pluck().get();
  connection.close();
  const ofChannel = (size: number) => 2 * Math.floor(readings.length / 2 / size);
  expect(buckets).toBe([1, 2, 3, 4].reduce((sum, level) => sum + ofChannel(bucketSize(level)), 0));
  return { runId, readings };
}

describe('a program killed while it writes', () => {
  test.each([1, 2, 7, 40])('after %d batches has every one of them in the record', async (batches) => {
    const folder = temporaryFolder();
    const child = startChild('write', folder);
    await child.line((line) => line === `written ${batches * 50}`);
    expect(await child.kill()).toBe('SIGKILL');
    const { readings } = expectWhole(opened(folder), child.lines);
    expect(readings.length).toBeGreaterThanOrEqual(batches * 50);
  });

  test.each([3, 11, 23, 47, 90])('%d ms into its run leaves no batch in part', async (delayMs) => {
    const folder = temporaryFolder();
    const child = startChild('write', folder);
    await child.line((line) => line.startsWith('run'));
    await setTimeout(delayMs);
    await child.kill();
    expectWhole(opened(folder), child.lines);
  });

  test('in the middle of a batch leaves all of it or nothing', async () => {
    const folder = temporaryFolder();
    const child = startChild('write', folder);
    await child.line((line) => line === 'trying 500');
    await child.kill();
    expectWhole(opened(folder), child.lines);
  });
});

describe('after a crash', () => {
  /** The folder as a crash at this moment would leave it. */
  function crashed(store: Store): string {
    const folder = temporaryFolder();
    for (const name of ['record.sqlite', 'record.sqlite-wal']) {
      writeFileSync(join(folder, name), readFileSync(join(store.folder, name)));
    }
    return folder;
  }

  test('a run without an end is interrupted at its last reading, and takes no more', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    write(store, [
      reading(store, run, 1000, 1),
      reading(store, run, 9000, 2, { channel: 1, wallMs: run.startedWallMs + 9000 + 3_600_000 }),
    ]);
    const again = opened(crashed(store));
    expect(again.opening.interruptedRunIds).toEqual([run.runId]);
    expect(again.runs.current()).toBeNull();
    expect(again.runs.get(run.runId)).toEqual({
      ...run,
      ending: 'interrupted',
      endedWallMs: run.startedWallMs + 9000 + 3_600_000,
    });
    expect(again.sessions.current()).toEqual(setting.session);
    expect(code(again.readings.writeBatch({ readings: [reading(again, run, 9999, 1)], events: [] }))).toBe('no-run');
    expect(code(again.runs.end(run.runId, 'ended'))).toBe('no-run');
    started(again, setting);
    again.close();
  });

  test('a run without a reading is interrupted at its start', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    expect(opened(crashed(store)).runs.get(run.runId)?.endedWallMs).toBe(run.startedWallMs);
  });

  test('buckets that are missing are worked out again', () => {
    const { store, connection } = openedWithConnection();
    const run = started(store, furnished(store));
    write(
      store,
      Array.from({ length: 600 }, (_, index) => reading(store, run, index, index)),
    );
    const before = connection.prepare('SELECT * FROM bucket ORDER BY level, number').all();
    connection.exec('DELETE FROM bucket WHERE number > 0');
    const folder = crashed(store);
    opened(folder).close();
    const after = new Database(join(folder, 'record.sqlite'), { readonly: true });
    expect(after.prepare('SELECT * FROM bucket ORDER BY level, number').all()).toEqual(before);
    after.close();
  });
});

describe('a full disk', () => {
  test('refuses the batch with nothing of it written, and takes it when there is room again', () => {
    const { store, connection } = openedWithConnection();
    const setting = furnished(store);
    const run = started(store, setting);
    const batchFrom = (from: number) =>
      Array.from({ length: 200 }, (_, index) => reading(store, run, from + index, index, { channel: index % 2 }));
    const most = Number(connection.pragma('max_page_count', { simple: true }));
    connection.pragma(`max_page_count = ${Number(connection.pragma('page_count', { simple: true })) + 12}`);

    let written = 0;
    let batch = batchFrom(0);
    let answer = store.readings.writeBatch({ readings: batch, events: [] });
    while (answer.ok) {
      written += batch.length;
      batch = batchFrom(written);
      answer = store.readings.writeBatch({ readings: batch, events: [] });
    }
    expect(answer.failure.code).toBe('disk-full');
    expect(written).toBeGreaterThan(0);
    expect([...store.readings.ofRun(run.runId)]).toHaveLength(written);
    const view = { runId: run.runId, channel: 'primary-volts', fromMs: 0, toMs: 1e9, pixels: 1000 };
    expect(value(store.readings.history(view)).readings).toBe(written / 2);

    const more = [...batch, ...batchFrom(written + 200)];
    const event = {
      eventId: store.events.nextId(),
      sessionId: null,
      runId: run.runId,
      wallMs: 1,
      monoMs: 1,
      kind: 'mark',
      body: 'x',
    };
    expect(code(store.readings.writeBatch({ readings: more, events: [event] }))).toBe('disk-full');
    expect(store.events.ofRun(run.runId)).toEqual([]);

    connection.pragma(`max_page_count = ${most}`);
    value(store.readings.writeBatch({ readings: more, events: [event] }));
    const all = [...store.readings.ofRun(run.runId)];
    expect(all).toHaveLength(written + 400);
    expect(all.slice(written)).toEqual(more);
    expect(connection.pragma('integrity_check', { simple: true })).toBe('ok');
    const buckets = connection.prepare('SELECT count(*) FROM bucket WHERE level = 1').pluck().get();
    expect(buckets).toBe(2 * Math.floor(all.length / 2 / 16));
    value(store.runs.end(run.runId, 'ended'));
  });

  test('refuses every other change too, and nothing of it stays', () => {
    const { store, connection } = openedWithConnection();
    const { core } = furnished(store);
    connection.pragma(`max_page_count = ${Number(connection.pragma('page_count', { simple: true }))}`);
    const long = { ...core.fields, note: 'n'.repeat(2000) };
    let last = store.cores.add(long);
    while (last.ok) last = store.cores.add(long);
    expect(last.failure.code).toBe('disk-full');
    const cores = store.cores.list();
    expect(store.cores.list()).toHaveLength(cores.length);
    expect(store.builds.listOf(cores.length + 1)).toEqual([]);
    expect(code(store.cores.correct(core.coreId, 'why', long))).toBe('disk-full');
    expect(store.cores.get(core.coreId)).toEqual(core);
  });
});
