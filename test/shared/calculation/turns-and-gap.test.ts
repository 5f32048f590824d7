import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

describe('adjust turns', () => {
  it('adds whole turns, with a sign', () => {
    const at = (targetVolts: number) => accept('adjust-turns', { measuredVolts: 12, turns: 12, targetVolts }).results;
    expect(at(14.3)).toMatchObject({ turnsToAdd: 2, voltsAfter: { value: 14 }, voltsPerTurn: { value: 1 } });
    expect(at(9.6)).toMatchObject({ turnsToAdd: -2, worthwhile: true });
    expect(at(12.2)).toMatchObject({ turnsToAdd: 0, worthwhile: false });
  });

  it('judges at the nominal line, so that a low line adds nothing', () => {
    const low = { measuredVolts: 11, primaryVolts: 110, turns: 12, targetVolts: 12 };
    expect(accept('adjust-turns', { ...low, nominalVolts: 120 }).results.turnsToAdd).toBe(0);
    const answer = accept('adjust-turns', low);
    expect(answer.results.turnsToAdd).toBe(1);
    expect(cautionCodes(answer)).toContain('line-not-counted');
  });

  it('lets the drop grow with the turns', () => {
    const { results } = accept('adjust-turns', { measuredVolts: 12, turns: 12, targetVolts: 13.2, dropVolts: 1 });
    // 12 V less 1 V on 12 turns: 11/12 V each, so 14.4 turns.
    expect(results.turnsToAdd).toBe(2);
    expect(results.voltsAfter.value).toBeCloseTo((11 / 12) * 14, 12);
  });

  it('is not worthwhile within the doubt of the reading, and not known where that is not', () => {
    const ask = (u: number | null) =>
      accept('adjust-turns', { measuredVolts: { value: 12, u }, turns: 120, targetVolts: 12.2 }).results.worthwhile;
    expect(ask(0.01)).toBe(true);
    expect(ask(0.5)).toBe(false);
    expect(ask(null)).toBeNull();
  });

  it('refuses a drop that takes all, and less than half a turn', () => {
    const given = { measuredVolts: 12, turns: 12, targetVolts: 12 };
    expect(refusal('adjust-turns', { ...given, dropVolts: 12 })).toMatchObject({ path: 'dropVolts', code: 'conflict' });
    expect(refusal('adjust-turns', { ...given, targetVolts: 0.3 })).toMatchObject({ path: 'targetVolts' });
  });
});

describe('joint gap', () => {
  it('grows with ampere-turns and against the flux density', () => {
    const gap = (extra: object) =>
      accept('joint-gap', { turns: 120, addedAmps: 0.5, peakTesla: 1.5, ...extra }).results.gapMm.value;
    expect(gap({})).toBeCloseTo(0.0711, 4);
    expect(gap({ turns: 240 })).toBeCloseTo(2 * gap({}), 12);
    expect(gap({ peakTesla: 0.75 })).toBeCloseTo(2 * gap({}), 12);
    expect(gap({ addedAmps: 0 })).toBe(0);
    expect(refusal('joint-gap', { turns: 120, addedAmps: 0.5, peakTesla: 0 })).toMatchObject({ path: 'peakTesla' });
  });
});
