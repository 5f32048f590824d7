import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { Jobs } from '../../../src-main/jobs/jobs.ts';
import { workerFile } from '../../../src-main/jobs/worker-file.ts';
import type { Store } from '../../../src-main/store/store.ts';
import type { Run } from '../../../src-shared/record/run.ts';
import { unharmed } from '../../../src-shared/report/csv.ts';
import { readCsv } from '../../shared/report/csv-reader.ts';
import { cutterNeed, cutterPlan } from '../store/plan-fixture.ts';
import { code, dimmerCore, fullSession, furnished, reading, started, value, write } from '../store/furnish.ts';
import { opened, temporaryFolder } from '../store/open-for-test.ts';

function jobsFor(store: Store, log: (line: string) => void = () => undefined): Jobs {
  const jobs = new Jobs({ entry: workerFile(), record: store.file, log });
  onTestFinished(() => jobs.close());
  return jobs;
}
const made = { programVersion: '0.1.0', madeWallMs: Date.UTC(2031, 2, 14), zone: 'UTC' };
const sheetOf = (runId: number, to: string) => ({ what: 'run-sheet', runId, to, made }) as const;
const csvOf = (runId: number, to: string) => ({ what: 'readings-csv', runId, to, made }) as const;

/** Many readings, written as a recorder does. */
function fill(store: Store, run: Run, count: number): void {
  for (let from = 0; from < count; from += 5000) {
    write(
      store,
      Array.from({ length: Math.min(5000, count - from) }, (_, index) =>
        reading(store, run, (from + index) * 10, 230 + ((from + index) % 7) / 10, { channel: index % 2 }),
      ),
    );
  }
}

describe('the jobs worker', () => {
  test('writes every reading of a run beside the store that holds the record', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const { run, readings } = fullSession(store);
    const shares: number[] = [];
    const to = join(folder, 'made.csv');
    const file = value(await jobsFor(store).hand(csvOf(run.runId, to), (share) => shares.push(share)).ended);
    const text = readFileSync(to, 'utf8');
    expect(file).toEqual({ name: `dimmer-core-a-test-coil-run-${run.runId}.csv`, bytes: Buffer.byteLength(text) });
    const [heads = [], ...rows] = readCsv(text.replace(/^\ufeff/, ''));
    expect(rows.map((row) => Number(row[0]))).toEqual(readings.map(({ readingId }) => readingId));
    expect(rows.map((row) => unharmed(row[heads.indexOf('text as sent')] ?? ''))).toEqual(
      readings.map(({ text: sent }) => sent),
    );
    expect(shares[0]).toBe(0);
  });

  test('writes the sheet of a run, with its chart', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const { run } = fullSession(store);
    const to = join(folder, 'made.html');
    expect(value(await jobsFor(store).hand(sheetOf(run.runId, to), () => undefined).ended).name).toMatch(/\.html$/);
    const page = readFileSync(to, 'utf8');
    expect(page).toMatch(/<svg class="chart"/);
    expect(page).toContain('taken back: lead slipped');
    expect(page).toContain('lamp dim');
  });

  test('writes the sheet that holds two builds against each other', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const { run } = fullSession(store);
    const jobs = jobsFor(store);
    const sheet = (before: number, after: number, to: string) =>
      jobs.hand({ what: 'comparison-sheet', before, after, to, made }, () => undefined).ended;
    const to = join(folder, 'made.html');
    expect(value(await sheet(run.buildId, run.buildId, to)).name).toBe('dimmer-core-a-builds-1-1.html');
    expect(readFileSync(to, 'utf8')).toContain('<h1>Build 1 beside build 1</h1>');
    expect(await sheet(run.buildId, 999, join(folder, 'other.html'))).toMatchObject({
      failure: { code: 'not-found', message: 'One of these two builds is not in the record.' },
    });
    expect(existsSync(join(folder, 'other.html'))).toBe(false);
  });

  test('writes the sheet to build a plan by: the newest version or one that is named, and what changed under it since', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const { core, build, winding } = furnished(store);
    const rests = {
      coreRevisionId: core.revisionId,
      windingRevisionIds: [winding.revisionId],
      resultIds: [],
    };
    const needId = value(store.needs.add(cutterNeed)).needId;
    const first = value(store.plans.add(build.buildId, cutterPlan(rests, { needId })));
    value(store.plans.revise(first.planId, null, cutterPlan(rests, { title: 'Shorter bow' })));
    value(
      store.cores.correct(core.coreId, 'caliper read again', { ...dimmerCore, windowWidth: { value: 19, u: null } }),
    );
    const jobs = jobsFor(store);
    const sheet = async (asked: { planId: number; revisionId?: number }, name: string) => {
      const to = join(folder, name);
      const ended = await jobs.hand({ what: 'build-sheet', ...asked, to, made }, () => undefined).ended;
      return { ended, page: existsSync(to) ? readFileSync(to, 'utf8') : null };
    };
    const newest = await sheet({ planId: first.planId }, 'newest.html');
    expect(value(newest.ended).name).toBe('dimmer-core-a-shorter-bow-build-sheet-version-2.html');
    expect(newest.page).toContain('<h1>Shorter bow</h1>');
    expect(newest.page).toMatch(/Out of date\..*window width 19 mm, was .* \(caliper read again\)/s);
    const older = await sheet({ planId: first.planId, revisionId: first.revisionId }, 'older.html');
    expect(older.page).toContain('Version 2 of this plan is newer than this one.');
    expect(older.page).toContain('For “Foam cutter, long bow”.');
    const none = await sheet({ planId: first.planId, revisionId: 999 }, 'none.html');
    expect(none).toMatchObject({ ended: { failure: { code: 'not-found' } }, page: null });
  });

  test('reads of one moment while the run goes on, and blocks nobody', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const run = started(store, furnished(store));
    fill(store, run, 60_000);
    const to = join(folder, 'made.csv');
    const handed = jobsFor(store).hand(csvOf(run.runId, to), () => undefined);
    let isDone = false;
    void handed.ended.then(() => (isDone = true));
    let [turns, slowestMs] = [0, 0];
    for (let atMs = 600_000; !isDone; atMs += 10, turns += 1) {
      const from = performance.now();
      write(store, [reading(store, run, atMs, 231)]);
      slowestMs = Math.max(slowestMs, performance.now() - from);
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    value(await handed.ended);
    expect(turns).toBeGreaterThan(5);
    expect(slowestMs).toBeLessThan(1000);
    const rows = readCsv(readFileSync(to, 'utf8').replace(/^\ufeff/, '')).length - 1;
    expect(rows).toBeGreaterThanOrEqual(60_000);
    expect(rows).toBeLessThan(60_000 + turns);
  });

  test('is called off in the middle, leaves no file, and goes on with the next', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const run = started(store, furnished(store));
    fill(store, run, 80_000);
    const jobs = jobsFor(store);
    const [one, two, three] = ['1', '2', '3'].map((name) => join(folder, name)) as [string, string, string];
    const first = jobs.hand(csvOf(run.runId, one), (share) => {
      if (share > 0) first.callOff();
    });
    const second = jobs.hand(csvOf(run.runId, two), () => undefined);
    const third = jobs.hand(sheetOf(run.runId, three), () => undefined);
    second.callOff();
    expect(code(await first.ended)).toBe('cancelled');
    expect(code(await second.ended)).toBe('cancelled');
    expect(value(await third.ended).bytes).toBeGreaterThan(1000);
    expect([existsSync(one), existsSync(two), existsSync(three)]).toEqual([false, false, true]);
    first.callOff();
  });

  test('says what the system says, and what is not there, and lives on', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const { run } = fullSession(store);
    const jobs = jobsFor(store);
    const csv = (runId: number, to: string) => jobs.hand(csvOf(runId, to), () => undefined).ended;
    expect(code(await csv(999, join(folder, 'a')))).toBe('not-found');
    expect(code(await csv(run.runId, join(folder, 'none', 'a')))).toBe('store-unwritable');
    writeFileSync(join(folder, 'there'), 'mine');
    expect(code(await csv(run.runId, join(folder, 'there')))).toBe('store-unwritable');
    expect(readFileSync(join(folder, 'there'), 'utf8')).toBe('mine');
    value(await csv(run.runId, join(folder, 'a')));
    const gone = new Jobs({ entry: workerFile(), record: join(folder, 'gone.sqlite'), log: () => undefined });
    expect(code(await gone.hand(csvOf(1, join(folder, 'b')), () => undefined).ended)).toBe('store-unwritable');
    await gone.close();
  });

  test('that a bug ends fails that job alone, tells the log, and is started anew', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const { run } = fullSession(store);
    const said: string[] = [];
    const jobs = jobsFor(store, (line) => said.push(line));
    const bad = { ...sheetOf(run.runId, join(folder, 'a')), made: { ...made, madeWallMs: Number.NaN } };
    const ok = jobs.hand(csvOf(run.runId, join(folder, 'b')), () => undefined);
    value(await ok.ended);
    const broken = jobs.hand(bad, () => undefined);
    const next = jobs.hand(csvOf(run.runId, join(folder, 'c')), () => undefined);
    expect(code(await broken.ended)).toBe('internal');
    value(await next.ended);
    expect(said.join('\n')).toMatch(/A job broke down: .*Invalid time value/s);
  });

  test('is closed in the middle of a job: it is called off, and nothing is taken any more', async () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    const run = started(store, furnished(store));
    fill(store, run, 60_000);
    mkdirSync(join(folder, 'out'));
    const jobs = jobsFor(store);
    const to = join(folder, 'out', 'a');
    const began = Promise.withResolvers<undefined>();
    const handed = jobs.hand(csvOf(run.runId, to), () => {
      began.resolve(undefined);
    });
    await began.promise;
    await jobs.close();
    expect(code(await handed.ended)).toBe('cancelled');
    expect(existsSync(to)).toBe(false);
    expect(code(await jobs.hand(sheetOf(run.runId, to), () => undefined).ended)).toBe('cancelled');
  });
});
