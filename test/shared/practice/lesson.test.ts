import { describe, expect, it } from 'vitest';
import { guardAtFirst } from '../../../src-shared/interlock/state.ts';
import { controlsAtFirst } from '../../../src-shared/practice/controls.ts';
import { currentRow, fallRow, noLoadPoint, proofRow } from '../../../src-shared/practice/lesson/found.ts';
import {
  lessonIds,
  stepStates,
  type LessonFacts,
  type LessonStep,
} from '../../../src-shared/practice/lesson/lesson.ts';
import { lessonById, lessons } from '../../../src-shared/practice/lesson/lessons.ts';
import { isFinished, type LessonView } from '../../../src-shared/practice/lesson/lessons-view.ts';
import { currentAt, finalCoreCelsius } from '../../../src-shared/practice/lesson/truth.ts';
import { observe } from '../../../src-shared/practice/observed.ts';
import { procedures } from '../../../src-shared/procedure/table.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import { stiffBench } from './given.ts';

const nothing: LessonFacts = {
  guard: guardAtFirst(0),
  session: null,
  isElsewhere: false,
  controls: controlsAtFirst,
  meters: [],
  builds: [],
  begunWallMs: 0,
  runs: [],
  results: [],
  proof: null,
  hasCompared: false,
};

describe('the steps of a lesson', () => {
  /** `k` is kept and done, `K` kept and not; `s` and `S` the same of what stands for a while. */
  const of = (pattern: string) => ({
    steps: [...pattern].map((one, index): LessonStep => ({
      id: String(index),
      say: one,
      why: one,
      place: 'bench',
      isDone: () => one === one.toLowerCase(),
      isKept: one.toLowerCase() === 'k',
    })),
  });
  it.each([
    ['SS', ['next', 'later']],
    ['sS', ['done', 'next']],
    // What stands by chance before its turn is not done yet.
    ['Ss', ['next', 'later']],
    ['ssk', ['done', 'done', 'done']],
    // Once a later step is in the record, what stood only until then is done.
    ['SSkS', ['done', 'done', 'done', 'next']],
    ['KskS', ['passed-over', 'done', 'done', 'next']],
    ['kSsK', ['done', 'next', 'later', 'later']],
    ['SSk', ['done', 'done', 'done']],
  ])('stand by what is done and what is kept: %s', (pattern, expected) => {
    expect(stepStates(of(pattern), nothing)).toEqual(expected);
  });

  it('begin with nothing done that asks for anything, in every lesson, and each can be named', () => {
    expect(lessons.map(({ id }) => id)).toEqual(lessonIds);
    for (const id of lessonIds) {
      const states = stepStates(lessonById(id), nothing);
      expect(states.filter((state) => state === 'next')).toHaveLength(1);
      expect(states).not.toContain('passed-over');
      expect(new Set(lessonById(id).steps.map((step) => step.id)).size).toBe(states.length);
    }
  });

  it('name a procedure as its page does', () => {
    const titles = procedures.map(({ title }) => title);
    const named = lessons.flatMap(({ steps }) => steps.flatMap(({ say }) => /^Set up “([^”]+)”/.exec(say)?.[1] ?? []));
    expect(named.length).toBeGreaterThanOrEqual(6);
    for (const name of named) expect(titles).toContain(name);
  });

  it('end when none is left, a passed-over one among them', () => {
    const view = (steps: LessonView['steps']): Pick<LessonView, 'steps'> => ({ steps });
    expect(isFinished(view(['done', 'passed-over']))).toBe(true);
    expect(isFinished(view(['done', 'next']))).toBe(false);
    expect(isFinished(view([]))).toBe(false);
  });
});

describe('what was found beside the truth', () => {
  const result = (input: unknown): Result => ({
    resultId: 1,
    buildId: 1,
    runId: 1,
    calculation: 'no-load',
    version: 1,
    wallMs: 0,
    input,
    output: {},
  });
  const point = { volts: 230, voltsU: 1, amps: 0.5, ampsU: 0.005 };
  const truth = { amps: 0.52, exponent: 5 };

  it('reads a no-load point with both parts of its doubt, and none where a doubt is not known', () => {
    const volts = { value: 230, u: 0.8, shared: { id: 'meter', u: 0.6 } };
    expect(noLoadPoint(result({ volts, amps: { value: 0.5, u: 0.005 } }))).toEqual({
      volts: 230,
      voltsU: 1,
      amps: 0.5,
      ampsU: 0.005,
    });
    expect(noLoadPoint(result({ volts: { value: 230, u: null }, amps: { value: 0.5, u: 0.005 } }))).toBeNull();
    expect(noLoadPoint({ ...result({ volts: 230, amps: 0.5 }), calculation: 'heat-run' })).toBeNull();
  });

  it('has the doubt of the volts in the interval of a current, by how steeply it goes with them', () => {
    // By hand: 0.5 A x 5 x 1 V / 230 V is 10.9 mA; with 5 mA of its own 12.0 mA, and 1.96 of it 23.4 mA.
    const row = currentRow(point, 'Build 1', truth);
    expect(row.low).toBeCloseTo(0.4766, 3);
    expect(row.high).toBeCloseTo(0.5234, 3);
    expect(row.holds).toBe(true);
    expect(currentRow(point, 'Build 1', { amps: 0.52, exponent: 1 }).holds).toBe(false);
  });

  it('holds a fall against the true fall, and dead against what was there', () => {
    const after = { point: { ...point, amps: 0.2 }, truth: { amps: 0.21, exponent: 3 } };
    const fall = fallRow({ point, truth }, after);
    expect(fall.truth).toBeCloseTo(0.31, 12);
    expect(fall.holds).toBe(true);
    expect(proofRow([0.003, 0.001], 3, 0.003)).toMatchObject({ low: 0, high: 3, holds: true });
    expect(proofRow([0.003], 3, 118).holds).toBe(false);
  });
});

it('knows the true current at any volts by the bench’s own solution, and where its heat ends', () => {
  const bench = { ...stiffBench, loads: {} };
  const observed = observe(bench);
  const volts = observed?.volts[bench.fedWindingId]?.rms ?? 0;
  expect(currentAt(bench, volts)?.amps).toBeCloseTo(observed?.lineAmps.rms ?? 0, 4);
  const half = observe({ ...bench, supply: { ...bench.supply, volts: bench.supply.volts / 2 } });
  expect(currentAt(bench, half?.volts[bench.fedWindingId]?.rms ?? 0)?.amps).toBeCloseTo(half?.lineAmps.rms ?? 0, 4);
  expect(finalCoreCelsius({ ...bench, supply: { ...bench.supply, volts: 0 } })).toBeCloseTo(bench.roomCelsius, 6);
  expect(finalCoreCelsius(bench)).toBeGreaterThan(bench.roomCelsius + 1);
});
