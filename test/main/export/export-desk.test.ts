import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { ExportView } from '../../../src-shared/contract/export-view.ts';
import { keepIn, type Deliver, type ReadyFile } from '../../../src-main/export/delivery.ts';
import { ExportDesk } from '../../../src-main/export/export-desk.ts';
import { Jobs } from '../../../src-main/jobs/jobs.ts';
import { workerFile } from '../../../src-main/jobs/worker-file.ts';
import { done } from '../../../src-shared/contract/failure.ts';
import { code, fullSession, value } from '../store/furnish.ts';
import { opened, temporaryFolder } from '../store/open-for-test.ts';

function desk(deliver?: Deliver) {
  const folder = temporaryFolder();
  const store = opened(folder);
  const { run } = fullSession(store);
  const jobs = new Jobs({ entry: workerFile(), record: store.file, log: () => undefined });
  const waiting = join(folder, 'waiting');
  mkdirSync(waiting);
  writeFileSync(join(waiting, '1.part'), 'of an earlier life');
  const seen: ExportView[] = [];
  const timers: (() => void)[] = [];
  const listeners = new Set<(view: ExportView) => void>();
  const one = new ExportDesk({
    folder: waiting,
    jobs,
    clock: {
      monoMs: () => 0,
      wallMs: () => Date.UTC(2031, 2, 14),
      upMs: () => 0,
      every: () => () => undefined,
      after: (_, act) => {
        timers.push(act);
        return () => timers.splice(timers.indexOf(act), 1);
      },
    },
    push: (push) => {
      if (push.kind !== 'export') return;
      seen.push(push.export);
      for (const listener of listeners) listener(push.export);
    },
    deliver: deliver ?? keepIn(join(folder, 'exports')),
    version: '0.1.0',
  });
  onTestFinished(async () => {
    await jobs.close();
    one.close();
  });
  const until = (exportId: number, state: ExportView['state']) =>
    new Promise<ExportView>((resolve) => {
      const look = (view: ExportView) => {
        if (view.exportId === exportId && view.state === state) resolve(view);
      };
      seen.forEach(look);
      listeners.add(look);
    });
  return { one, run, folder, waiting, seen, timers, until };
}

describe('the export desk', () => {
  test('makes a file, says so, and hands it over once', async () => {
    const { one, run, folder, waiting, until } = desk();
    const { exportId, state } = value(one.start({ what: 'readings-csv', runId: run.runId }));
    expect(state).toBe('working');
    expect(code(await one.fetch(exportId))).toBe('not-found');
    const ready = await until(exportId, 'ready');
    expect(ready).toMatchObject({ share: 1, name: expect.stringMatching(/\.csv$/), message: null });
    const file = join(folder, 'exports', ready.name ?? '');
    expect(value(await one.fetch(exportId))).toEqual({ kind: 'saved', file });
    expect(readFileSync(file).length).toBe(ready.bytes);
    expect(readdirSync(waiting)).toEqual([]);
    expect(code(await one.fetch(exportId))).toBe('not-found');
    const again = value(one.start({ what: 'readings-csv', runId: run.runId }));
    await until(again.exportId, 'ready');
    expect(value(await one.fetch(again.exportId))).toEqual({ kind: 'saved', file: file.replace('.csv', '-2.csv') });
  });

  test('leaves nothing of an earlier life, of what was called off, or of what nobody fetched', async () => {
    const { one, run, waiting, timers, until } = desk();
    const first = value(one.start({ what: 'run-sheet', runId: run.runId }));
    await until(first.exportId, 'ready');
    expect(readdirSync(waiting)).toEqual(['1.part']);
    expect(readFileSync(join(waiting, '1.part'), 'utf8')).toContain('<!doctype html>');
    one.cancel(first.exportId);
    await until(first.exportId, 'cancelled');
    const second = value(one.start({ what: 'run-sheet', runId: run.runId }));
    one.cancel(second.exportId);
    await until(second.exportId, 'cancelled');
    const third = value(one.start({ what: 'run-sheet', runId: run.runId }));
    await until(third.exportId, 'ready');
    for (const act of [...timers]) act();
    await until(third.exportId, 'cancelled');
    expect(readdirSync(waiting)).toEqual([]);
    one.cancel(999);
  });

  test('says why one failed, and takes no more than eight', async () => {
    const { one, run, until } = desk();
    const missing = value(one.start({ what: 'run-sheet', runId: 999 }));
    expect((await until(missing.exportId, 'failed')).message).toBe('There is no run 999 in the record.');
    const started = Array.from({ length: 8 }, () => value(one.start({ what: 'run-sheet', runId: run.runId })));
    expect(code(one.start({ what: 'run-sheet', runId: run.runId }))).toBe('busy');
    await Promise.all(started.map(({ exportId }) => until(exportId, 'ready')));
  });

  test('gives a host the file, its name, type and size, and asks nothing more of it', async () => {
    const files: ReadyFile[] = [];
    const { one, run, until } = desk((file) => {
      files.push(file);
      return done({ kind: 'dismissed' });
    });
    const { exportId } = value(one.start({ what: 'run-sheet', runId: run.runId }));
    const { name, bytes } = await until(exportId, 'ready');
    expect(value(await one.fetch(exportId))).toEqual({ kind: 'dismissed' });
    expect(files).toEqual([{ path: expect.any(String), name, bytes, type: 'text/html; charset=utf-8' }]);
    expect(existsSync(files[0]?.path ?? '')).toBe(true);
  });
});
