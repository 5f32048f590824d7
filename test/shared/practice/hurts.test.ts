import { expect, it } from 'vitest';
import { hurtsAt } from '../../../src-shared/practice/hurts.ts';
import { lessons } from '../../../src-shared/practice/lesson/lessons.ts';
import { observe, type PracticeBench } from '../../../src-shared/practice/observed.ts';
import { stiffBench } from './given.ts';

function codesAt(change: Partial<PracticeBench>): readonly string[] {
  const bench = { ...stiffBench, ...change };
  const observed = observe(bench);
  if (observed === null) throw new Error('The primary is fed.');
  return hurtsAt(bench, observed).map(({ code }) => code);
}

it('says what would have hurt, each for its own reason, and nothing while power is off', () => {
  const low = { ...stiffBench.supply, volts: 24 };
  expect(codesAt({ supply: low })).toEqual([]);
  expect(codesAt({})).toEqual(['winding-high']);
  expect(codesAt({ faults: { ...stiffBench.faults, earthOpen: true } })).toEqual(['core-live', 'winding-high']);
  expect(codesAt({ loads: { heater: 0 } })).toContain('too-much-current');
  expect(codesAt({ supply: low, temperatures: { winding: 150, core: 90 } })).toEqual(['too-hot']);
  expect(codesAt({ isOn: false, faults: { ...stiffBench.faults, earthOpen: true } })).toEqual([]);
});

it('walks the whole job, each lesson with a reason and steps', () => {
  expect(lessons.map(({ id }) => id)).toEqual([
    'make-dead',
    'low-coil',
    'mains-coil',
    'sweep',
    'heat-run',
    'add-turns',
    'compare',
  ]);
  expect(lessons.every(({ why, steps }) => why !== '' && steps.length > 0)).toBe(true);
});
