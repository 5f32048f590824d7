import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createReadingsFlow } from '../../../src-main/host/readings-flow.ts';
import type { ReadingColumns } from '../../../src-shared/record/reading.ts';
import { handClock, readings } from './fakes.ts';

const columnsOf = (times: readonly number[], channel?: string, runId?: number) => {
  const push = readings(times, channel, runId);
  if (push.kind !== 'readings') throw new Error('Readings are readings.');
  return push.columns;
};

function flowUnderTest() {
  const clock = handClock();
  const sent: { readonly atMs: number; readonly columns: readonly ReadingColumns[] }[] = [];
  const flow = createReadingsFlow((columns) => sent.push({ atMs: clock.now(), columns }), clock.later);
  return { clock, sent, flow };
}

describe('readings flow', () => {
  it('sends the first reading at once', () => {
    const { sent, flow } = flowUnderTest();
    flow.add(columnsOf([1]));
    expect(sent).toHaveLength(1);
  });

  it('gathers what follows into one set of columns for each run and channel, in order', () => {
    const { clock, sent, flow } = flowUnderTest();
    flow.add(columnsOf([1]));
    flow.add(columnsOf([2]));
    flow.add(columnsOf([3], 'coil-volts'));
    flow.add(columnsOf([4, 5]));
    flow.add(columnsOf([6], 'primary-volts', 2));
    expect(sent).toHaveLength(1);
    clock.pass(34);
    expect(sent[1]?.columns.map(({ runId, channel, atMs }) => [runId, channel, atMs])).toEqual([
      [1, 'primary-volts', [2, 4, 5]],
      [1, 'coil-volts', [3]],
      [2, 'primary-volts', [6]],
    ]);
  });

  it('rests after it has nothing more, and then sends the next one at once again', () => {
    const { clock, sent, flow } = flowUnderTest();
    flow.add(columnsOf([1]));
    clock.pass(100);
    expect(clock.waiting()).toBe(0);
    flow.add(columnsOf([2]));
    expect(sent.map(({ atMs }) => atMs)).toEqual([0, 100]);
  });

  it('hands over what is waiting when told to', () => {
    const { sent, flow } = flowUnderTest();
    flow.add(columnsOf([1]));
    flow.add(columnsOf([2]));
    flow.flush();
    flow.flush();
    expect(sent.map(({ columns }) => columns[0]?.atMs)).toEqual([[1], [2]]);
  });

  it('sends nothing more once closed', () => {
    const { clock, sent, flow } = flowUnderTest();
    flow.add(columnsOf([1]));
    flow.add(columnsOf([2]));
    flow.close();
    clock.pass(1000);
    expect(sent).toHaveLength(1);
    expect(clock.waiting()).toBe(0);
  });

  it('loses none, keeps every column as long as the others, and stays within 30 messages in any second', () => {
    const steps = fc.array(
      fc.record({ waitMs: fc.integer({ min: 0, max: 50 }), many: fc.integer({ min: 0, max: 5 }) }),
    );
    fc.assert(
      fc.property(steps, (list) => {
        const { clock, sent, flow } = flowUnderTest();
        let next = 0;
        for (const { waitMs, many } of list) {
          clock.pass(waitMs);
          flow.add(columnsOf(Array.from({ length: many }, () => next++)));
        }
        clock.pass(1000);
        const all = sent.flatMap(({ columns }) => columns);
        expect(all.flatMap(({ atMs }) => atMs)).toEqual(Array.from({ length: next }, (_, at) => at));
        for (const { atMs, kind, value, u, text } of all) {
          expect([kind.length, value.length, u.length, text.length]).toEqual(Array(4).fill(atMs.length));
        }
        for (const { atMs } of sent) {
          expect(sent.filter((other) => other.atMs >= atMs && other.atMs < atMs + 1000).length).toBeLessThanOrEqual(30);
        }
      }),
      { seed: 20_260, numRuns: 200 },
    );
  });
});
