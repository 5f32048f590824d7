import { expect, test } from 'vitest';
import { Connection } from '../../src-renderer/state/connection.svelte.ts';
import { LiveReadings, Trace } from '../../src-renderer/state/live-readings.ts';
import { FakeProgram } from './fake-program.ts';

const columns = (runId: number, channel: string, atMs: number[], value: (number | null)[]) => ({
  runId,
  channel,
  atMs,
  kind: value.map((each) => (each === null ? ('overload' as const) : ('number' as const))),
  value,
  u: value.map(() => 0.1),
  unit: 'V',
  text: value.map(String),
});

async function connected(): Promise<{ program: FakeProgram; live: LiveReadings }> {
  const program = new FakeProgram();
  const connection = new Connection(program.transport, { read: () => null, write: () => undefined });
  const live = new LiveReadings(connection);
  connection.start();
  await expect.poll(() => connection.isOpen).toBe(true);
  return { program, live };
}

const nextFrame = (): Promise<number> => new Promise((resolve) => requestAnimationFrame(resolve));

test('paints a channel once a frame, however many readings came', async () => {
  const { program, live } = await connected();
  const painted: (number | null | undefined)[] = [];
  live.subscribe('primary-volts', (trace) => painted.push(trace.last?.value));
  expect(painted).toEqual([undefined]);
  for (let n = 1; n <= 20; n++) program.push({ kind: 'readings', columns: [columns(1, 'primary-volts', [n], [n])] });
  await nextFrame();
  await nextFrame();
  expect(painted).toEqual([undefined, 20]);
});

test('keeps gaps as gaps and drops the oldest first', () => {
  const trace = new Trace(3);
  const reading = (atMs: number, value: number | null) => ({
    atMs,
    kind: value === null ? ('overload' as const) : ('number' as const),
    value,
    u: null,
    unit: 'V',
    text: '',
  });
  for (const [atMs, value] of [
    [1, 10],
    [2, 20],
    [3, null],
    [4, 40],
  ] as const) {
    trace.add(reading(atMs, value));
  }
  expect(trace.since(0)).toEqual({ atMs: [2, 3, 4], value: [20, null, 40] });
  expect(trace.since(3)).toEqual({ atMs: [3, 4], value: [null, 40] });
  expect(trace.last?.value).toBe(40);
});

test('begins anew with another run', async () => {
  const { program, live } = await connected();
  program.push({ kind: 'readings', columns: [columns(1, 'primary-volts', [1, 2], [10, 11])] });
  program.push({ kind: 'readings-missed', readings: 7 });
  expect([live.trace('primary-volts').length, live.missed]).toEqual([2, 7]);
  program.push({ kind: 'readings', columns: [columns(2, 'primary-volts', [1], [5])] });
  expect([live.runId, live.trace('primary-volts').length, live.missed]).toEqual([2, 1, 0]);
});
