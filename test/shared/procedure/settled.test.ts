import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeSettled, type Sample } from '../../../src-shared/procedure/settled.ts';

/** Two readings a second of a meter that is good to 0.5 V and shows 0.1 V. */
const samples = (values: readonly number[], everyMs = 500): Sample[] =>
  values.map((value, index) => ({ atMs: index * everyMs, value, u: 0.5, resolution: 0.1 }));
const lastMs = (list: readonly Sample[]) => list.at(-1)?.atMs ?? 0;
const judge = (list: readonly Sample[]) => judgeSettled(list, lastMs(list));

describe('whether a value has settled', () => {
  it('is settled after 3 s inside its own error', () => {
    expect(judge(samples([118.6, 118.7, 118.5, 118.6, 118.6, 118.7, 118.6]))).toMatchObject({
      kind: 'settled',
      seconds: 3,
    });
  });
  it('waits for 3 s, however many readings come', () => {
    expect(judge(samples(Array<number>(20).fill(118.6), 100))).toMatchObject({ kind: 'waiting', needSeconds: 3 });
  });
  it('waits for four readings, however long they take', () => {
    expect(judge(samples([118.6, 118.6, 118.6], 4000))).toMatchObject({ kind: 'waiting' });
  });
  it('is not settled while it creeps beyond its own error', () => {
    expect(judge(samples([116, 116.5, 117, 117.5, 118, 118.5, 119, 119.5]))).toMatchObject({ kind: 'moving' });
  });
  it('counts anew from a step, and leaves out what was before it', () => {
    const list = samples([0, 0, 0, 118.6, 118.6, 118.6, 118.6, 118.6, 118.6, 118.6]);
    expect(judge(list)).toMatchObject({ kind: 'settled', from: 3 });
  });
  it('knows nothing when the last reading is old', () => {
    expect(judgeSettled(samples([118.6, 118.6]), 60_000)).toEqual({ kind: 'nothing' });
    expect(judgeSettled([], 0)).toEqual({ kind: 'nothing' });
  });
  it('never calls a stretch settled that holds a reading outside its own error', () => {
    const values = fc.array(fc.double({ min: 100, max: 130, noNaN: true }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(values, (list) => {
        const all = samples(list);
        const settled = judge(all);
        if (settled.kind !== 'settled') return;
        const stretch = all.slice(settled.from).map(({ value }) => value);
        expect(Math.max(...stretch) - Math.min(...stretch)).toBeLessThanOrEqual(1);
        expect(stretch.length).toBeGreaterThanOrEqual(4);
      }),
    );
  });
});
