import { describe, expect, it } from 'vitest';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { accept, cautionCodes, refusal } from './ask.ts';

describe('duty', () => {
  const given = { finalRise: 100, timeConstant: 3600, limitRise: 60 };

  it('stays on until the limit, or for ever', () => {
    expect(accept('duty', given).results.longestOnFromCold?.value).toBeCloseTo(-3600 * Math.log(0.4), 6);
    const mild = accept('duty', { ...given, finalRise: 50 });
    expect(mild.results.longestOnFromCold).toBeNull();
    expect(cautionCodes(mild)).toContain('never-reached');
  });

  it('lets the winding alone hold where it is hot first', () => {
    const heavy = accept('duty', { ...given, currentDensity: 20, metal: 'copper' });
    // 2 K/s at 20 A/mm² in copper at 20 °C.
    expect(heavy.results.adiabaticSeconds?.value).toBeCloseTo(30, 0);
    expect(heavy.results.longestOnFromCold?.value).toBe(heavy.results.adiabaticSeconds?.value);
    expect(cautionCodes(heavy)).toContain('winding-first');
    expect(refusal('duty', { ...given, currentDensity: 20 })).toMatchObject({ code: 'missing-key', path: 'metal' });
  });

  it('peaks at the limit with the pause that it asks for', () => {
    const asked = { ...given, coolingTimeConstant: 5000, onSeconds: 1200 };
    const { offNeeded, dutyPercent } = accept('duty', asked).results;
    const off = offNeeded?.value ?? NaN;
    expect(accept('duty', { ...asked, offSeconds: off }).results.peakRiseRepeating?.value).toBeCloseTo(60, 9);
    expect(dutyPercent?.value).toBeCloseTo(120_000 / (1200 + off), 9);
  });

  it('has no pause either for an on time that the winding alone does not stand', () => {
    // 60 K at 10 A/mm² in copper: about 60 / 0.5 = 120 s with no heat leaving; the body would take 600 s again and again.
    const asked = { ...given, onSeconds: 600, currentDensity: 10, metal: 'copper' };
    const { results } = accept('duty', asked);
    expect(results.adiabaticSeconds?.value).toBeCloseTo(120, 0);
    expect([results.offNeeded, results.dutyPercent]).toEqual([null, null]);
    const short = accept('duty', { ...asked, onSeconds: 100 }).results;
    expect(short.offNeeded?.value).toBe(accept('duty', { ...given, onSeconds: 100 }).results.offNeeded?.value);
  });

  it('has no pause for an on time that passes the limit at once, and needs none for a mild one', () => {
    const long = accept('duty', { ...given, onSeconds: 5000 });
    expect(long.results.offNeeded).toBeNull();
    expect(cautionCodes(long)).toContain('on-too-long');
    expect(accept('duty', { ...given, finalRise: 50, onSeconds: 5000 }).results.offNeeded?.value).toBe(0);
  });
});

describe('cooling', () => {
  const at = (seconds: number) => 0.5 + 0.03 * Math.exp(-seconds / 90);
  const times = [15, 30, 50, 80, 120, 180, 260, 360];
  const points = times.map((seconds) => ({ seconds, ohms: at(seconds) }));

  it('goes back to the instant of switch-off', () => {
    const { results } = accept('cooling', { points });
    expect(results.atSwitchOff.value).toBeCloseTo(0.53, 9);
    expect(results.atSwitchOff.unit).toBe('Ω');
    expect(results.timeConstant.value).toBeCloseTo(90, 4);
    const later = accept('cooling', { points, switchOffSeconds: 5 }).results;
    expect(later.atSwitchOff.value).toBeCloseTo(at(5), 9);
  });

  it('adds what the doubt of the instant does, by the slope there', () => {
    const { atSwitchOff } = accept('cooling', { points, switchOffSeconds: { value: 0, u: 2 } }).results;
    expect(atSwitchOff.u).toBeCloseTo((2 * 0.03) / 90, 6);
  });

  it('holds the truth 94 to 98 % of the time, errors drawn as stated', () => {
    const draw = seededGenerator(5);
    let held = 0;
    for (let trial = 0; trial < 1500; trial += 1) {
      const noisy = times.map((seconds) => ({
        seconds,
        ohms: { value: at(seconds) + 0.0003 * draw.normal(), u: 0.0003 },
      }));
      const [low, high] = accept('cooling', { points: noisy }).results.atSwitchOff.interval95 ?? [NaN, NaN];
      if (low <= 0.53 && 0.53 <= high) held += 1;
    }
    expect(held / 1500).toBeGreaterThan(0.94);
    expect(held / 1500).toBeLessThan(0.98);
  });

  it('says when the first reading came late', () => {
    const late = points.map(({ seconds, ohms }) => ({ seconds: seconds + 40, ohms }));
    expect(cautionCodes(accept('cooling', { points: late }))).toContain('first-too-late');
    expect(cautionCodes(accept('cooling', { points }))).not.toContain('first-too-late');
  });

  it('takes one unit, and three times at least', () => {
    const mixed = [...points.slice(0, 3), { seconds: 400, celsius: 40 }];
    expect(refusal('cooling', { points: mixed })).toMatchObject({ code: 'conflict', path: 'points.3.ohms' });
    const twice = [points[0], points[1], points[1]];
    expect(refusal('cooling', { points: twice })).toMatchObject({ code: 'not-determined', path: 'points' });
  });
});
