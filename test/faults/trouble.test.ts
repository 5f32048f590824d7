import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openPtyPair } from '../main/meter/pty-pair.ts';
import { dataFolder } from '../program.ts';
import { tell } from '../walk.ts';
import { startRunning, type Running } from './running.ts';
import { canMount, mountSmallDisk } from './small-disk.ts';

interface Disk {
  readonly path: string;
  fill(running: Running): void;
  makeRoom(running: Running): void;
  remove(): void;
}

/** A disk that takes no byte more: the system refuses every write of the program until it is told to take them again. */
function refusingDisk(): Disk {
  const folder = dataFolder();
  const limit = (most: string) => (running: Running) => {
    const { status } = spawnSync('prlimit', ['--pid', String(running.program.process.pid), `--fsize=${most}`]);
    expect(status).toBe(0);
  };
  return { ...folder, fill: limit('1:unlimited'), makeRoom: limit('unlimited:unlimited') };
}

const disks: readonly (readonly [string, () => Disk])[] = [
  ['refuses every write', refusingDisk],
  // Only root may mount a disk of its own; the refusing one stands for it elsewhere.
  ...(canMount() ? [['is full', () => mountSmallDisk(8)] as const] : []),
];

describe.each(disks)('a run on a disk that %s', (_what, makeDisk) => {
  it('says so, keeps what it cannot write, does not end, and loses nothing when there is room again', async () => {
    const disk = makeDisk();
    const running = await startRunning(disk.path);
    try {
      running.stream();
      await running.hear(50);
      disk.fill(running);
      const alarm = (code: string) => () => running.client.of('alarm').find((one) => one.code === code);
      await running.client.until(alarm('not-writing'), 60_000);
      await running.hear(100);
      expect(await running.guard()).toBe('live');
      await tell(running.ask, { kind: 'power-off' });
      expect(await running.client.refusal('run.end', { runId: running.runId })).toMatchObject({ code: 'disk-full' });
      running.quiet();
      disk.makeRoom(running);
      await running.client.until(alarm('writing-again'));
      const ended = await running.end();
      expect(ended).toMatchObject({ ending: 'ended', integrity: 'ok' });
      expect(ended.pushed).toBeGreaterThan(150);
      expect(ended.stored).toBe(ended.pushed);
    } finally {
      running.quiet();
      await running.program.kill();
      disk.remove();
    }
  });
});

describe('a run of the real program', () => {
  let folder: ReturnType<typeof dataFolder>;
  beforeEach(() => {
    folder = dataFolder();
  });
  afterEach(() => {
    folder.remove();
  });

  it('goes on while the time of day is set an hour forward and two back, and tells of it', async () => {
    const clock = join(folder.path, 'clock');
    const stepped = pathToFileURL(join(import.meta.dirname, 'stepped-clock.mjs')).href;
    const running = await startRunning(folder.path, {
      NODE_OPTIONS: `--import ${stepped}`,
      TURNWRIGHT_TEST_CLOCK: clock,
    });
    running.stream();
    await running.hear(50);
    for (const [index, hours] of [1, -1].entries()) {
      writeFileSync(clock, String(hours * 3_600_000));
      running.program.process.kill('SIGUSR2');
      const set = () => running.client.of('event').filter(({ event }) => event.kind === 'clock-set')[index];
      await running.client.until(set);
      await running.hear(50);
      expect(await running.guard()).toBe('live');
    }
    const ended = await running.end();
    expect(ended).toMatchObject({ ending: 'ended', integrity: 'ok', stored: ended.pushed });
    expect(ended.happenings.filter((text) => text.includes('time was set'))).toEqual([
      expect.stringContaining('set 60 min forward'),
      expect.stringContaining('set 120 min back'),
    ]);
    expect(ended.atMs).toEqual(ended.atMs.toSorted((one, other) => one - other));
    expect(ended.atMs.at(-1)).toBeLessThan(60_000);
  });

  it('is live after a moment’s standstill, trips after one that nothing watched, and shows both as gaps', async () => {
    const running = await startRunning(folder.path);
    const standStill = async (ms: number) => {
      running.stream();
      await running.hear(50);
      running.quiet();
      running.program.process.kill('SIGSTOP');
      await setTimeout(ms);
      running.program.process.kill('SIGCONT');
      running.stream();
      await running.hear(50);
      running.quiet();
    };
    await standStill(1500);
    expect(await running.guard()).toBe('live');
    await standStill(7000);
    expect(await running.guard()).toBe('tripped');
    const ended = await running.end();
    expect(ended).toMatchObject({ ending: 'tripped', integrity: 'ok', stored: ended.pushed });
    expect(ended.happenings.join()).toContain('The computer slept, or held this program still, for');
    const gaps = ended.atMs.slice(1).map((atMs, index) => atMs - (ended.atMs[index] ?? NaN));
    expect(gaps.filter((ms) => ms > 1000)).toHaveLength(2);
  });

  it('takes a lead that comes and goes: the run goes on, with every reading that came', async () => {
    const running = await startRunning(folder.path);
    running.stream();
    await running.hear(50);
    running.quiet();
    let { primary } = running;
    for (let time = 0; time < 5; time += 1) {
      await primary.pull();
      await setTimeout(100 * time);
      primary = await openPtyPair(dirname(primary.meterEnd));
    }
    const seen = () =>
      running.client.of('readings').findLast(({ columns }) => columns.some(({ text }) => text.includes('118.9 V')));
    const streaming = setInterval(() => {
      void primary.write('118.9 V\r\n').catch(() => undefined);
      void running.coil.write('+9.870E+00 VAC\r\n');
    }, 20);
    await running.client.until(seen, 20_000);
    clearInterval(streaming);
    const ended = await running.end();
    await primary.close();
    expect(ended).toMatchObject({ integrity: 'ok', stored: ended.pushed });
    expect(['ended', 'tripped']).toContain(ended.ending);
    expect(ended.happenings.some((text) => text.includes('quiet'))).toBe(ended.ending === 'tripped');
  });
});
