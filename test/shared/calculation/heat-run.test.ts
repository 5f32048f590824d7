import { describe, expect, it } from 'vitest';
import { seededGenerator, type Generator } from '../../../src-shared/quantity/generator.ts';
import { accept, cautionCodes, refusal } from './ask.ts';

const truth = { final: 82, start: 22, tau: 2700 };
const at = (seconds: number) => truth.final + (truth.start - truth.final) * Math.exp(-seconds / truth.tau);
const times = Array.from({ length: 16 }, (_, index) => index * 500);
const clean = times.map((seconds) => ({ seconds, celsius: at(seconds) }));

/** How often the interval of the final temperature and of the time constant holds the truth. */
function coverage(trials: number, points: (draw: Generator) => readonly object[], extra: (draw: Generator) => object) {
  const draw = seededGenerator(11);
  let [final, tau] = [0, 0];
  for (let trial = 0; trial < trials; trial += 1) {
    const { finalCelsius, timeConstant } = accept('heat-run', { points: points(draw), ...extra(draw) }).results;
    const holds = (interval: readonly [number, number] | null, value: number) =>
      interval !== null && interval[0] <= value && value <= interval[1] ? 1 : 0;
    final += holds(finalCelsius.interval95, truth.final);
    tau += holds(timeConstant.interval95, truth.tau);
  }
  return [final / trials, tau / trials];
}

describe('heat run', () => {
  it('finds the curve that the points lie on', () => {
    const { results } = accept('heat-run', { points: clean, ambientCelsius: 24 });
    expect(results.finalCelsius.value).toBeCloseTo(82, 6);
    expect(results.timeConstant.value).toBeCloseTo(2700, 3);
    expect(results.startCelsius.value).toBeCloseTo(22, 6);
    expect(results.finalRise?.value).toBeCloseTo(58, 6);
    expect(results).toMatchObject({ stopped: 'converged', steady: false });
    expect(results.rmsResidual).toBeLessThan(1e-6);
  });

  it('holds the truth 94 to 98 % of the time, errors drawn as stated', () => {
    const stated = (draw: Generator) =>
      times.map((seconds) => ({ seconds, celsius: { value: at(seconds) + 0.4 * draw.normal(), u: 0.4 } }));
    const start = (draw: Generator) => ({ startCelsius: { value: truth.start + 0.3 * draw.normal(), u: 0.3 } });
    for (const covered of [...coverage(1500, stated, () => ({})), ...coverage(1500, stated, start)]) {
      expect(covered).toBeGreaterThan(0.94);
      expect(covered).toBeLessThan(0.98);
    }
  });

  it('holds it as often by the scatter alone, where nothing is stated', () => {
    const exact = (draw: Generator) =>
      times.map((seconds) => ({ seconds, celsius: at(seconds) + 0.4 * draw.normal() }));
    for (const covered of coverage(1500, exact, () => ({}))) {
      expect(covered).toBeGreaterThan(0.94);
      expect(covered).toBeLessThan(0.98);
    }
  });

  it('moves the end by an offset that all points share, and the time constant not at all', () => {
    const points = clean.map(({ seconds, celsius }) => ({
      seconds,
      celsius: { value: celsius, u: 0, shared: { id: 'probe', u: 1 } },
    }));
    const { finalCelsius, timeConstant } = accept('heat-run', { points }).results;
    expect(finalCelsius.u).toBeCloseTo(1, 4);
    expect(timeConstant.u).toBeLessThan(0.01);
  });

  it('tells when the limit is reached, and when never', () => {
    const asked = (extra: object) => accept('heat-run', { points: clean, ...extra });
    const limited = asked({ limitCelsius: 60 });
    expect(limited.results.secondsToLimit?.value).toBeCloseTo(2700 * Math.log(60 / 22), 2);
    expect(cautionCodes(limited)).toContain('over-limit');
    expect(asked({ limitCelsius: 90 }).results.secondsToLimit).toBeNull();
    expect(asked({ insulationClass: 'A' }).results.secondsToLimit).toBeNull();
    expect(asked({}).results).not.toHaveProperty('secondsToLimit');
  });

  it('is steady when the last half hour changed by no more than 1 K', () => {
    const long = Array.from({ length: 40 }, (_, index) => ({ seconds: index * 400, celsius: at(index * 400) }));
    expect(accept('heat-run', { points: long }).results.steady).toBe(true);
    expect(accept('heat-run', { points: clean.slice(0, 3) }).results.steady).toBeNull();
  });

  it('solves as many points as unknowns exactly, with no doubt known', () => {
    const answer = accept('heat-run', { points: clean.slice(0, 3) });
    expect(answer.results.finalCelsius.value).toBeCloseTo(82, 3);
    expect(answer.results.finalCelsius.u).toBeNull();
    expect(cautionCodes(answer)).toEqual(expect.arrayContaining(['solved-exactly', 'too-early']));
  });

  it('answers a poor fit with its residuals and a caution', () => {
    const points = clean.map(({ seconds, celsius }, index) => ({
      seconds,
      celsius: { value: celsius + (index % 2 === 0 ? 1 : -1), u: 0.05 },
    }));
    const answer = accept('heat-run', { points });
    expect(cautionCodes(answer)).toContain('poor-fit');
    expect(answer.results.rmsResidual).toBeGreaterThan(0.8);
    expect(answer.results.finalCelsius.u).toBeGreaterThan(0.2);
  });

  it.each([
    ['two points', { points: clean.slice(0, 2) }, 'points'],
    ['a start that is fixed and read again', { points: [clean[0], clean[3]], startCelsius: 22 }, 'points'],
    ['a straight line', { points: times.map((seconds) => ({ seconds, celsius: 20 + seconds / 100 })) }, 'points'],
    ['a level line', { points: times.map((seconds) => ({ seconds, celsius: { value: 21, u: 0.1 } })) }, 'points'],
    [
      'a level line that began a digit off',
      { points: times.map((seconds) => ({ seconds, celsius: { value: seconds === 0 ? 21.1 : 21, u: 0.1 } })) },
      'points',
    ],
  ])('cannot tell from %s', (_, input, path) => {
    expect(refusal('heat-run', input)).toMatchObject({ code: 'not-determined', path });
  });

  it('takes one limit', () => {
    const error = refusal('heat-run', { points: clean, limitCelsius: 90, insulationClass: 'B' });
    expect(error).toMatchObject({ code: 'conflict', path: 'insulationClass' });
  });
});

describe('the time to a limit', () => {
  const ask = (limitCelsius: number, u: number) =>
    accept('heat-run', {
      points: clean.map((each) => ({ ...each, celsius: { value: each.celsius, u } })),
      limitCelsius,
    });

  it('has its simple interval where the curve is steep', () => {
    const answer = ask(60, 0.3);
    expect(answer.results.secondsToLimit).not.toHaveProperty('drawn');
    expect(cautionCodes(answer)).not.toContain('drawn-differs');
  });

  it('has the interval that drawn errors give where the limit is close under the end', () => {
    const answer = ask(81, 0.3);
    const { secondsToLimit } = answer.results;
    const [, simple] = secondsToLimit?.interval95 ?? [];
    const [, drawn] = secondsToLimit?.drawn?.interval95 ?? [];
    // The curve creeps up to the limit: it can take much longer, and not so much less long.
    expect(drawn).toBeGreaterThan((simple ?? NaN) + 300);
    expect(cautionCodes(answer)).toContain('drawn-differs');
  });

  it('is only rough where some of the curves would never reach it', () => {
    expect(cautionCodes(ask(81.5, 0.6))).toContain('rough-uncertainty');
  });
});
