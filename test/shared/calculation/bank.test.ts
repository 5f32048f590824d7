import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

const parallel = { join: 'parallel' } as const;
const unit = (openVolts: number, ohms: number, extra: object = {}) => ({ openVolts, ohms, ratedAmps: 1000, ...extra });

describe('a bank in parallel', () => {
  it('of two equal units shares by halves, with nothing round them', () => {
    const units = [unit(24, 0.02), unit(24, 0.02)];
    const { results } = accept('bank', { ...parallel, units, loadAmps: 60 });
    expect(results.openVolts.value).toBeCloseTo(24, 12);
    expect(results.circulatingAmps?.value).toBeCloseTo(0, 12);
    expect(results.closing).toBe('propose');
    expect(results.sharing.map(({ amps }) => amps.value)).toEqual([expect.closeTo(30, 9), expect.closeTo(30, 9)]);
    expect(results.loadVolts?.value).toBeCloseTo(24 - 60 * 0.01, 12);
  });

  it('of two that look equal may still drive a current round them, as their doubt says', () => {
    const doubtful = unit(24, 0.02, { openVolts: { value: 24, u: 0.1 } });
    const { circulatingAmps } = accept('bank', { ...parallel, units: [doubtful, doubtful] }).results;
    expect(circulatingAmps?.value).toBeCloseTo(0, 12);
    expect(circulatingAmps?.u).toBeCloseTo((0.1 * Math.SQRT2) / 0.04, 6);
  });

  // Own arithmetic: one turn too few at 1 V a turn round 10 mΩ, and 118 against 122 turns on 120 V with 0.4 Ω each.
  it.each([
    ['one turn too few', unit(12, 0.005), unit(11, 0.005), 100],
    ['two primaries of unlike turns', unit(122, 0.4), unit(118, 0.4), 5],
  ])('warns of %s', (_, first, second, amps) => {
    const answer = accept('bank', { ...parallel, units: [first, second] });
    expect(answer.results.circulatingAmps?.value).toBeCloseTo(amps, 9);
    expect(answer.results.lastLinkVolts?.value).toBeCloseTo(first.openVolts - second.openVolts, 9);
    expect(answer.results.closing).toBe('do-not-close');
    expect(cautionCodes(answer)).toEqual(expect.arrayContaining(['do-not-close', 'measure-across-last-link']));
  });

  // Theraja, A Textbook of Electrical Technology, vol. II, parallel operation of transformers of equal turns: 0.5 + j 3 Ω and
  // 0.6 + j 10 Ω on 125 kVA. From memory, recomputed: 96 and 29 kVA.
  it('shares a load by the inverse of the impedances', () => {
    const units = [unit(2300, 0.5, { reactance: 3 }), unit(2300, 0.6, { reactance: 10 })];
    const { sharing } = accept('bank', { ...parallel, units, loadAmps: 50, powerFactor: 0.8 }).results;
    expect(((sharing[0]?.amps.value ?? NaN) * 125) / 50).toBeCloseTo(95.98, 1);
    expect(((sharing[1]?.amps.value ?? NaN) * 125) / 50).toBeCloseTo(29.14, 1);
  });

  it('adds currents as phasors: unlike R and X carry more between them than the load', () => {
    const units = [unit(24, 0.04, { reactance: 0.01 }), unit(24, 0.01, { reactance: 0.04 })];
    const { sharing } = accept('bank', { ...parallel, units, loadAmps: 100 }).results;
    const sum = sharing.reduce((total, { amps }) => total + amps.value, 0);
    // Each takes |Z of the other| / |Z1 + Z2| of the load.
    expect(sum).toBeCloseTo((200 * Math.hypot(0.04, 0.01)) / Math.hypot(0.05, 0.05), 9);
    expect(sum).toBeGreaterThan(100);
  });

  it('gives as the limit the load at which the first unit reaches its rated current', () => {
    const units = [unit(24.3, 0.02, { ratedAmps: 40 }), unit(24.2, 0.03, { ratedAmps: 40, reactance: 0.02 })];
    const { limitAmps } = accept('bank', { ...parallel, units }).results;
    const at = accept('bank', { ...parallel, units, loadAmps: limitAmps.value });
    const parts = at.results.sharing.map(({ ratedPercent }) => ratedPercent.value);
    expect(Math.max(...parts)).toBeCloseTo(100, 8);
    expect(cautionCodes(at)).not.toContain('over-limit');
    const over = accept('bank', { ...parallel, units, loadAmps: 1.01 * limitAmps.value });
    expect(Math.max(...over.results.sharing.map(({ ratedPercent }) => ratedPercent.value))).toBeGreaterThan(100);
    expect(cautionCodes(over)).toContain('over-limit');
    expect(limitAmps.value).toBeLessThan(80);
  });

  it('has no limit left where the current round it is too much already', () => {
    const units = [unit(24, 0.005, { ratedAmps: 20 }), unit(23, 0.005, { ratedAmps: 20 })];
    const answer = accept('bank', { ...parallel, units });
    expect(answer.results.limitAmps.value).toBe(0);
    expect(cautionCodes(answer)).toContain('overloaded-with-no-load');
  });

  it('knows a unit with its leads exchanged', () => {
    const units = [unit(24, 0.02), unit(24, 0.02, { phaseDegrees: 180 })];
    const { results } = accept('bank', { ...parallel, units });
    expect(results.lastLinkVolts?.value).toBeCloseTo(48, 9);
    expect(results.circulatingAmps?.value).toBeCloseTo(48 / 0.04, 6);
    expect(results.openVolts.value).toBeCloseTo(0, 9);
  });

  it('looks at the worst of several last links', () => {
    const units = [unit(24, 0.02), unit(24.1, 0.02), unit(23.4, 0.02)];
    const { results } = accept('bank', { ...parallel, units });
    expect(results.lastLinkVolts?.value).toBeCloseTo(24.05 - 23.4, 9);
    expect(results.closing).toBe('do-not-close');
  });
});

describe('a bank in series', () => {
  const join = 'series';

  it('adds volts and resistances, and is as strong as its weakest', () => {
    const units = [unit(12, 0.01, { ratedAmps: 50 }), unit(14, 0.03, { ratedAmps: { value: 40, u: 1 } })];
    const { results } = accept('bank', { join, units, loadAmps: 20 });
    expect(results.openVolts.value).toBe(26);
    expect(results.loadVolts?.value).toBeCloseTo(26 - 20 * 0.04, 12);
    expect(results.limitAmps).toMatchObject({ value: 40, u: 1 });
    expect(results.sharing.map(({ amps }) => amps.value)).toEqual([20, 20]);
    expect(results.sharing.map(({ ratedPercent }) => ratedPercent.value)).toEqual([40, 50]);
    expect(results).not.toHaveProperty('circulatingAmps');
    expect(results).not.toHaveProperty('closing');
  });

  // Common practice, no source: almost no voltage comes out of two that oppose.
  it('says which way round two are that leave almost nothing', () => {
    const units = [unit(24.2, 0.01), unit(24, 0.01, { phaseDegrees: 180 })];
    const answer = accept('bank', { join, units });
    expect(answer.results.openVolts.value).toBeCloseTo(0.2, 12);
    expect(cautionCodes(answer)).toContain('opposing');
  });

  it('says so over 50 V', () => {
    const codes = (volts: number) =>
      cautionCodes(accept('bank', { join, units: [unit(volts, 0.1), unit(volts, 0.1)] }));
    expect(codes(24)).not.toContain('over-50-volts');
    expect(codes(26)).toContain('over-50-volts');
  });
});

describe('any bank', () => {
  it.each(['series', 'parallel'])('in %s refuses a load that it cannot drive', (join) => {
    const error = refusal('bank', { join, units: [unit(12, 0.5), unit(12, 0.5)], loadAmps: 100 });
    expect(error).toMatchObject({ code: 'outside-validity', path: 'loadAmps' });
  });

  it('says where reactance was taken as none beside others that have some', () => {
    const units = [unit(12, 0.5), unit(12, 0.5, { reactance: 0.2 })];
    expect(cautionCodes(accept('bank', { ...parallel, units }))).toContain('reactance-taken-as-none');
  });
});
