import { describe, expect, it } from 'vitest';
import { bankOf, refusedJoint } from '../../../src-shared/joining/figures.ts';
import { judgeReading, type JoinStep } from '../../../src-shared/joining/step.ts';
import { beforeClosing, joinSteps } from '../../../src-shared/joining/steps.ts';
import type { JoinUnit, Joint } from '../../../src-shared/joining/unit.ts';
import { ways, type Way } from '../../../src-shared/joining/way.ts';

const unit = (name: string, more: Partial<JoinUnit> = {}): JoinUnit => ({
  name,
  openVolts: { value: 24, u: 0.05 },
  ohms: { value: 0.04, u: 0.002 },
  reactance: null,
  ratedAmps: 15,
  primaryTurns: { value: 412, u: 0 },
  primaryOhms: { value: 2.9, u: 0.05 },
  ...more,
});

const joint = (more: Partial<Joint> = {}): Joint => ({
  units: [unit('core A'), unit('core B')],
  supplyVolts: 230,
  testVolts: 11.5,
  loadAmps: 20,
  stackSupply: 'same',
  stackCore: { windowWidthMm: 20, windowHeightMm: 60 },
  ...more,
});

function step(way: Way, id: string, of: Joint = joint()): JoinStep {
  const found = joinSteps(way, of).find((each) => each.id === id);
  if (found === undefined) throw new Error(`No step ${id}.`);
  return found;
}

const say = (at: JoinStep, reading: number): string | undefined => judgeReading(at, reading)?.words;

describe('the tests before joining', () => {
  it('reads each secondary alone at low volts: its share of the supply', () => {
    // 24 V × 11.5 / 230
    expect(step('parallel', 'alone-0').expected).toBeCloseTo(1.2, 12);
    expect(say(step('parallel', 'alone-1'), 1.21)).toBe('As expected. Go on.');
    expect(say(step('parallel', 'alone-1'), 1.5)).toMatch(/^Not what was expected/);
  });

  it('wants near nothing across the far ends of a parallel, and tells leads exchanged from turns that differ', () => {
    const ends = step('parallel', 'ends-0');
    expect(ends.expected).toBe(0);
    expect(say(ends, 0.004)).toBe('As expected. Go on.');
    expect(say(ends, 2.4)).toBe('They oppose: exchange the leads of core B, and read again.');
    expect(say(ends, 0.06)).toBe('Too much: the turns differ. Do not join them.');
    expect(say(step('parallel', 'link-0'), 48)).toMatch(/^They oppose/);
  });

  it('wants the sum of a series, and names the one that opposes', () => {
    const of = joint({ units: [unit('core A'), unit('core B'), unit('core C', { openVolts: { value: 6, u: 0.05 } })] });
    expect(step('series', 'lamp', of).expected).toBe(54);
    expect(say(step('series', 'lamp', of), 53.5)).toBe('As expected. Go on.');
    expect(say(step('series', 'lamp', of), 42)).toBe('core C opposes: exchange its leads, and read again.');
    expect(say(step('series', 'sum'), 0.01)).toBe('core B opposes: exchange its leads, and read again.');
    expect(step('series', 'load').expected).toBe(20);
  });

  it('wants half of the supply on each of two primaries in series', () => {
    expect(step('double-supply', 'low-0').expected).toBe(5.75);
    expect(step('double-supply', 'lamp-1').expected).toBe(115);
    expect(say(step('double-supply', 'lamp-1'), 226)).toMatch(/^It takes all of it/);
    expect(say(step('double-supply', 'lamp-1'), 150)).toMatch(/^They do not share evenly/);
  });

  it('wants two primaries on one stack to cancel, and counts the turns by which they do not', () => {
    const ends = step('double-stack', 'ends');
    expect(say(ends, 0.01)).toBe('As expected. Go on.');
    expect(say(ends, 23)).toBe('They oppose: exchange the leads of the second, and read again.');
    // 11.5 V on 412 turns: 28 mV a turn.
    expect(say(ends, 0.084)).toBe('Not near 0: the turns differ. Do not join them in parallel. That is about 3 turns.');
    const double = joint({ stackSupply: 'double' });
    expect(step('double-stack', 'sum', double).expected).toBe(23);
    expect(say(step('double-stack', 'sum', double), 0.02)).toMatch(/^They oppose/);
    expect(step('double-stack', 'lamp-0', double).expected).toBe(115);
  });

  it('has the currents from the calculations', () => {
    const unlike = joint({ units: [unit('core A'), unit('core B', { openVolts: { value: 24.2, u: 0.05 } })] });
    // 0.2 V over 2 × 0.04 Ω
    expect(step('parallel', 'idle', unlike).expected).toBeCloseTo(2.5, 9);
    expect(step('parallel', 'share-0', unlike).expected).toBeCloseTo(7.5, 1);
    expect(bankOf('series', joint())?.ok).toBe(true);
  });

  it('expects nothing where something is not known, and judges nothing then', () => {
    const bare = unit('core B', { openVolts: null, ohms: null, primaryTurns: null });
    const of = joint({ units: [unit('core A'), bare] });
    for (const way of ways) {
      const steps = joinSteps(way, of);
      expect(steps.some(({ expected }) => expected === null)).toBe(true);
      for (const each of steps) if (each.expected === null) expect(judgeReading(each, 1)).toBeNull();
    }
    expect(bankOf('parallel', of)).toBeNull();
  });
});

describe('what must not be joined', () => {
  it('is read as far as its last link stays open, and no further', () => {
    const idsOf = (way: Way) => beforeClosing(joinSteps(way, joint())).map(({ id }) => id);
    expect(idsOf('parallel')).toEqual(['alone-0', 'alone-1', 'ends-0', 'link-0']);
    expect(idsOf('double-stack')).toEqual(['ratio', 'ends']);
    expect(beforeClosing(joinSteps('series', joint()))).toEqual(joinSteps('series', joint()));
  });

  it('is a parallel of unlike volts', () => {
    const of = joint({ units: [unit('core A'), unit('core B', { openVolts: { value: 24.4, u: 0.05 } })] });
    expect(refusedJoint('parallel', of)).toMatch(/^Unlike volts: 24.00 and 24.40 V are 1.7 % apart/);
    expect(refusedJoint('series', of)).toBeNull();
    expect(refusedJoint('parallel', joint())).toBeNull();
  });

  it('is a double stack whose turns are not proved equal, unless it goes on twice the volts', () => {
    const doubtful = unit('core B', { primaryTurns: { value: 412, u: 0.6 } });
    const of = joint({ units: [unit('core A'), doubtful] });
    expect(refusedJoint('double-stack', of)).toMatch(/not proved equal/);
    expect(refusedJoint('double-stack', { ...of, stackSupply: 'double' })).toBeNull();
    expect(refusedJoint('double-stack', joint())).toBeNull();
  });
});
