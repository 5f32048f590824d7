import { expect, it } from 'vitest';
import { onOldCurve } from '../../../src-shared/comparison/curves.ts';
import { observe } from '../../../src-shared/practice/observed.ts';
import { stiffBench } from '../practice/given.ts';
import { record, sweep } from './given.ts';

const more = { ...stiffBench, added: { turns: 20, ohms20: 0.1, opposed: false } };
const swept = { ...sweep(stiffBench, 320), resultId: 100, buildId: 1 };
const first = record({ number: 1, turns: 320 });
const bare = record({ number: 2, turns: 320 });

it('lays the points of a run over the curve of the nearest earlier build that has one', () => {
  const now = record({ number: 3, turns: 340, amps: observe(more)?.lineAmps.rms ?? NaN });
  const [point] = now.results;
  if (point === undefined) throw new Error('The point was just made.');
  const whole = { ...now, results: [swept, point] };
  const found = onOldCurve(whole, [first.build, bare.build, now.build], point);
  expect(found).toMatchObject({ title: 'One curve for both: the turn counts agree', candidates: [] });
  expect(found?.rests).toBe('Points: all 7 of build 1 on it, the one of build 3 on it.');
  expect(onOldCurve({ ...whole, results: [point] }, [first.build, now.build], point)).toBeNull();
});
