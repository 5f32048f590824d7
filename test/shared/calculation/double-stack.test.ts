import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

const given = {
  windowWidthMm: 20,
  windowHeightMm: 60,
  coreVolts: 120,
  firstTurns: 120,
  secondTurns: 120,
  firstOhms: 0.4,
  secondOhms: 0.4,
  supply: 'same',
};

describe('double stack', () => {
  // Common practice, no source: same tongue, twice the window; parallel on the same supply, series on twice the supply.
  it('has twice the window, in parallel on the same supply and in series on twice', () => {
    const same = accept('double-stack', given).results;
    expect(same).toMatchObject({ windowArea: { value: 2400 }, voltsPerTurn: { value: 1 }, primaryJoin: 'parallel' });
    expect(same.circulatingAmps?.value).toBeCloseTo(0, 12);
    const double = accept('double-stack', { ...given, supply: 'double' }).results;
    expect(double).toMatchObject({ voltsPerTurn: { value: 1 }, primaryJoin: 'series', circulatingAmps: null });
  });

  it('drives about 5 A round 118 and 122 turns of 0.4 Ω each on 120 V, and does not join them', () => {
    const answer = accept('double-stack', { ...given, firstTurns: 118, secondTurns: 122 });
    expect(answer.results.circulatingAmps?.value).toBeCloseTo(5, 9);
    expect(answer.results.primaryJoin).toBe('not-proved');
    expect(cautionCodes(answer)).toEqual(expect.arrayContaining(['turns-not-equal', 'far-ends', 'lamp-first']));
  });

  it('takes counts that may be a turn apart for not proved', () => {
    const doubtful = { ...given, firstTurns: { value: 120, u: 0.6 } };
    expect(accept('double-stack', doubtful).results.primaryJoin).toBe('not-proved');
    const unknown = { ...given, firstTurns: { value: 120, u: null } };
    expect(accept('double-stack', unknown).results.primaryJoin).toBe('not-proved');
  });

  it('rates the power by the mass of both, for minutes', () => {
    const answer = accept('double-stack', { ...given, massKg: 5 });
    expect(answer.results.shortTermPower).toMatchObject({ value: 2200, u: null });
    expect(cautionCodes(answer)).toContain('minutes-not-hours');
    expect(refusal('double-stack', { ...given, secondTurns: 0 })).toMatchObject({ path: 'secondTurns' });
  });
});
