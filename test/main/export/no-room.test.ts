import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { keepIn } from '../../../src-main/export/delivery.ts';
import { ExportDesk } from '../../../src-main/export/export-desk.ts';
import { writeFileInPieces } from '../../../src-main/export/out-file.ts';
import { putFile } from '../../../src-main/export/put-file.ts';
import { Jobs } from '../../../src-main/jobs/jobs.ts';
import { workerFile } from '../../../src-main/jobs/worker-file.ts';
import type { ExportView } from '../../../src-shared/contract/export-view.ts';
import { canMount, mountSmallDisk } from '../../faults/small-disk.ts';
import { code, furnished, reading, started, value, write } from '../store/furnish.ts';
import { opened, temporaryFolder } from '../store/open-for-test.ts';

/** A run of which every reading as text takes more than a megabyte, and a desk that makes files of it in a folder. */
function deskIn(waiting: string, exports: string) {
  const store = opened(temporaryFolder());
  const run = started(store, furnished(store));
  for (let from = 0; from < 12_000; from += 3000) {
    write(
      store,
      Array.from({ length: 3000 }, (_, index) => reading(store, run, (from + index) * 10, 230)),
    );
  }
  const jobs = new Jobs({ entry: workerFile(), record: store.file, log: () => undefined });
  const ends = new Map<number, (view: ExportView) => void>();
  const desk = new ExportDesk({
    folder: waiting,
    jobs,
    clock: {
      monoMs: () => 0,
      upMs: () => 0,
      wallMs: () => 0,
      every: () => () => undefined,
      after: () => () => undefined,
    },
    push: (push) => {
      if (push.kind === 'export' && push.export.state !== 'working') ends.get(push.export.exportId)?.(push.export);
    },
    deliver: keepIn(exports),
    version: '0.1.0',
  });
  onTestFinished(async () => {
    await jobs.close();
    desk.close();
  });
  const make = async (what: 'readings-csv' | 'run-sheet') => {
    const { exportId } = value(desk.start({ what, runId: run.runId }));
    return new Promise<ExportView>((resolve) => ends.set(exportId, resolve));
  };
  return { desk, make, run };
}

// Only root may mount a disk of its own; what a disk that vanished does is tested everywhere.
describe.each(canMount() ? ['a disk of one megabyte that is full'] : [])('on %s', () => {
  function small() {
    const disk = mountSmallDisk(1);
    onTestFinished(() => {
      disk.remove();
    });
    return disk;
  }

  test('an export ends in a clear message, leaves nothing half-written, and works when there is room', async () => {
    const disk = small();
    const waiting = join(disk.path, 'waiting');
    const { make } = deskIn(waiting, join(temporaryFolder(), 'exports'));
    expect(await make('readings-csv')).toMatchObject({
      state: 'failed',
      message: `The disk with ${waiting} is full: the file was not made. Nothing of it is left, and the record is as it was. Make room and try again.`,
    });
    expect(readdirSync(waiting)).toEqual([]);
    disk.fill();
    expect((await make('run-sheet')).message).toMatch(/is full/);
    expect(readdirSync(waiting)).toEqual([]);
    disk.makeRoom();
    expect((await make('run-sheet')).state).toBe('ready');
  });

  test('a file that is put there is not there in part, and one that stood there stays as it was', async () => {
    const disk = small();
    const exports = join(disk.path, 'exports');
    const { desk, make } = deskIn(join(temporaryFolder(), 'waiting'), exports);
    const { exportId } = await make('readings-csv');
    const outcome = await desk.fetch(exportId);
    expect(outcome).toMatchObject({ failure: { code: 'disk-full', message: expect.stringMatching(/Make room/) } });
    expect(readdirSync(exports)).toEqual([]);
    const made = join(disk.path, 'made');
    expect(() => writeFileInPieces(made, (take) => take('x'.repeat(2_000_000)))).toThrow(/ENOSPC/);
    expect(existsSync(made)).toBe(false);
    const large = join(temporaryFolder(), 'large');
    writeFileSync(large, Buffer.alloc(2_000_000, 'x'));
    const mine = join(disk.path, 'mine.csv');
    writeFileSync(mine, 'as it was');
    await expect(putFile(large, mine)).rejects.toThrow(/ENOSPC/);
    expect(readFileSync(mine, 'utf8')).toBe('as it was');
    expect(readdirSync(disk.path).sort()).toEqual(['exports', 'mine.csv']);
  });
});

describe('a folder that is gone', () => {
  test('is made again for the next file, and a file that went with it is said to be gone', async () => {
    const waiting = join(temporaryFolder(), 'waiting');
    const { desk, make } = deskIn(waiting, join(temporaryFolder(), 'exports'));
    const { exportId } = await make('run-sheet');
    rmSync(waiting, { recursive: true });
    expect(await desk.fetch(exportId)).toMatchObject({
      failure: { code: 'not-found', message: expect.stringMatching(/^The file is gone: .* Make it again\.$/) },
    });
    expect((await make('run-sheet')).state).toBe('ready');
  });

  test('and cannot be made is named, by whoever wanted to write there', async () => {
    const place = temporaryFolder();
    writeFileSync(join(place, 'file'), '');
    const { desk, run } = deskIn(join(place, 'file', 'waiting'), join(place, 'file', 'exports'));
    expect(desk.start({ what: 'run-sheet', runId: run.runId })).toMatchObject({
      failure: {
        code: 'store-unwritable',
        message: expect.stringMatching(/waiting is not there: the file was not made/),
      },
    });
    const ready = join(place, 'ready');
    writeFileSync(ready, 'a;b');
    const file = { path: ready, name: 'a.csv', type: 'text/csv', bytes: 3 };
    expect(code(await keepIn(join(place, 'file', 'exports'))(file))).toBe('store-unwritable');
    expect(existsSync(ready)).toBe(false);
  });

  test('takes nothing of what was there with it when a file is put in its place', async () => {
    const place = temporaryFolder();
    const [from, folder] = [join(place, 'from'), join(place, 'folder')];
    writeFileSync(from, 'a;b');
    await expect(putFile(from, join(folder, 'x.csv'))).rejects.toThrow(/ENOENT/);
    mkdirSync(folder);
    await putFile(from, join(folder, 'x.csv'));
    expect(readdirSync(folder)).toEqual(['x.csv']);
  });
});
