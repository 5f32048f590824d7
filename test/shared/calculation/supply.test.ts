import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

describe('supply circuit', () => {
  const given = { volts: 120, breakerAmps: 15, continuous: false, loads: [] };

  it('counts units in volt-amperes beside what is there', () => {
    const answer = accept('supply-circuit', { ...given, loads: [{ voltAmperes: 300 }], unitVoltAmperes: 500 });
    expect(answer.results).toMatchObject({ watts: { value: 1800 }, unitsThatFit: 3 });
    expect(answer.results.loadFraction.value).toBeCloseTo(1 / 6, 12);
    expect(cautionCodes(answer)).toEqual(['va-not-watts', 'other-loads']);
  });

  it('fits a load of exactly the rest, and none where it is full', () => {
    expect(accept('supply-circuit', { ...given, unitVoltAmperes: 600 }).results.unitsThatFit).toBe(3);
    const full = accept('supply-circuit', { ...given, loads: [{ voltAmperes: 2000 }], unitVoltAmperes: 100 });
    expect(full.results.unitsThatFit).toBe(0);
    expect(cautionCodes(full)).toContain('over-capacity');
    expect(accept('supply-circuit', given).results.unitsThatFit).toBeNull();
  });

  it('takes the local part for continuous load', () => {
    const local = accept('supply-circuit', { ...given, continuous: true, continuousPart: 0.7 });
    expect(local.results.watts.value).toBeCloseTo(1260, 9);
    expect(cautionCodes(local)).toContain('local-rule');
    expect(refusal('supply-circuit', { ...given, breakerAmps: 0 })).toMatchObject({ path: 'breakerAmps' });
  });
});

describe('rectifier', () => {
  const given = { dcVolts: 20, dcAmps: 10, circuit: 'bridge', filter: 'none', diodeVolts: 1 };

  it('refuses half-wave, which saturates the core', () => {
    const error = refusal('rectifier', { ...given, circuit: 'half-wave' });
    expect(error).toMatchObject({ code: 'outside-validity', path: 'circuit' });
  });

  it('counts two diodes in a bridge and one at a centre tap', () => {
    const volts = (circuit: string) =>
      accept('rectifier', { ...given, circuit, filter: 'capacitor' }).results.secondaryVolts.value;
    expect(volts('bridge')).toBeCloseTo(22 / Math.SQRT2, 12);
    expect(volts('centre-tap')).toBeCloseTo(21 / Math.SQRT2, 12);
  });

  it('loads each half of a centre tap every other half wave', () => {
    const bridge = accept('rectifier', given).results;
    const tap = accept('rectifier', { ...given, circuit: 'centre-tap' }).results;
    expect(tap.secondaryAmps.to.value).toBeCloseTo(bridge.secondaryAmps.to.value / Math.SQRT2, 12);
    expect(tap.va.from.value).toBeCloseTo(2 * tap.secondaryVolts.value * tap.secondaryAmps.from.value, 9);
  });

  it('says how doubtful a diode is that nobody measured, and that the capacitor rule is a range', () => {
    const { diodeVolts, ...rest } = given;
    expect(diodeVolts).toBe(1);
    const answer = accept('rectifier', { ...rest, filter: 'capacitor' });
    expect(answer.results.secondaryVolts.u).toBeCloseTo((2 * 0.3) / Math.sqrt(3) / Math.SQRT2, 9);
    expect(cautionCodes(answer)).toEqual(['stiff-source', 'ripple', 'no-load-volts', 'diode-assumed']);
  });
});

describe('inrush and fuse', () => {
  const given = { volts: 120, supplyOhms: 0.3, primaryOhms: 0.4, ratedAmps: 7, rule: 'us-primary-only' };

  it('bounds the surge by the resistances alone', () => {
    expect(accept('inrush-and-fuse', given).results.inrushBound.value).toBeCloseTo((Math.SQRT2 * 120) / 0.7, 9);
  });

  it('names whose rule the fuse follows, with its caution', () => {
    const us = accept('inrush-and-fuse', given);
    expect(us.results.whoseRule).toContain('450.3(B)');
    const other = accept('inrush-and-fuse', { ...given, rule: 'common-practice' });
    expect(other.results).toMatchObject({ fuseFrom: { value: 8.75 }, fuseTo: { value: 14 } });
    expect(other.results.whoseRule).toContain('Common practice');
    expect(cautionCodes(other)).toEqual(['starting-figure', 'inrush', 'time-lag']);
    expect(refusal('inrush-and-fuse', { ...given, primaryOhms: 0 })).toMatchObject({ path: 'primaryOhms' });
  });
});
