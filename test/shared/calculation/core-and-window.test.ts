import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

describe('core rating', () => {
  it('is about 220 W per kg, without a known uncertainty and with its range', () => {
    const answer = accept('core-rating', { massKg: 5 });
    expect(answer.results.shortTermPower).toMatchObject({ value: 1100, u: null, unit: 'W' });
    expect(answer.results.shortTermPowerRange).toEqual([500, 1500]);
    expect(cautionCodes(answer)).toEqual(['rule-of-thumb']);
    expect(cautionCodes(accept('core-rating', { massKg: 1 }))).toContain('outside-rule');
  });

  it('has no power rule for another kind, or without the mass', () => {
    expect(accept('core-rating', { massKg: 5, kind: 'other' }).results.shortTermPower).toBeNull();
    expect(accept('core-rating', { tongueMm: 40, stackMm: 50 }).results.shortTermPower).toBeNull();
  });

  it('gives areas and the mean turn from dimensions', () => {
    const { results } = accept('core-rating', {
      tongueMm: 40,
      stackMm: 50,
      stackingFactor: 0.95,
      windowWidthMm: 20,
      windowHeightMm: 60,
    });
    expect(results.ironArea?.value).toBeCloseTo(1900, 9);
    expect(results.windowArea?.value).toBe(1200);
    expect(results.areaProduct).toMatchObject({ unit: 'cm⁴' });
    expect(results.areaProduct?.value).toBeCloseTo(19 * 12, 9);
    // Round the tongue at half the window's width: straight sides and a full circle of radius 10 mm.
    expect(results.meanTurnLength?.value).toBeCloseTo(180 + 2 * Math.PI * 10, 9);
  });

  it('gives the power by the area product, as the handbook’s sum of both windings has it', () => {
    // W. T. McLyman, Transformer and Inductor Design Handbook, from memory: A_p = P_t / (K_f K_u B f J), with P_t of both
    // windings and K_f = 4.44; here 228 cm⁴, so P_t = 228e-8 × 4.44288 × 0.35 × 1.4 × 50 × 3.5e6 = 868.6 VA.
    const dimensions = { tongueMm: 40, stackMm: 50, stackingFactor: 0.95, windowWidthMm: 20, windowHeightMm: 60 };
    const hours = accept('core-rating', { ...dimensions, hertz: 50 });
    expect(hours.results.areaProductPower?.value).toBeCloseTo(868.6 / 2, 1);
    expect(cautionCodes(hours)).toContain('area-product');
    const given = { hertz: 60, peakTesla: 1.2, currentDensity: 2, copperFill: 0.4 };
    const { results } = accept('core-rating', { ...dimensions, ...given });
    expect(results.areaProductPower?.value).toBeCloseTo(1.2 * 0.4 * 2 * 60 * (4.44288 / 2) * 1900e-6 * 1200, 2);
    expect(accept('core-rating', dimensions).results.areaProductPower).toBeUndefined();
  });

  it.each([
    [{}, 'massKg'],
    [{ tongueMm: 40 }, 'stackMm'],
    [{ windowWidthMm: 20 }, 'windowHeightMm'],
    [{ windowHeightMm: 20 }, 'windowWidthMm'],
  ])('refuses %j for want of %s', (input, path) => {
    expect(refusal('core-rating', input)).toMatchObject({ code: 'missing-key', path });
  });
});

describe('widest wire', () => {
  it('is 2 sqrt(area / π) of each turn’s part of the window', () => {
    const { results } = accept('widest-wire', { windowWidthMm: 20, windowHeightMm: 60, turns: 30, fill: 0.55 });
    expect(results.areaPerTurn.value).toBeCloseTo(22, 12);
    expect(results.overallDiameter.value).toBeCloseTo(2 * Math.sqrt(22 / Math.PI), 12);
  });

  it.each([
    [0.55, []],
    [0.7, ['fill-above-hand']],
    [0.8, ['fill-above-square-packing']],
    [0.95, ['fill-impossible']],
  ])('says of a fill of %d: %j', (fill, codes) => {
    const answer = accept('widest-wire', { windowWidthMm: 20, windowHeightMm: 60, turns: 30, fill });
    expect(cautionCodes(answer)).toEqual(codes);
  });
});

describe('meter uncertainty', () => {
  it('takes limits as rectangular, and a stated k = 2 as normal', () => {
    const meter = { reading: 10, percentOfReading: 1, digits: 5, resolution: 0.01 };
    const { results } = accept('meter-uncertainty', meter);
    expect(results.shares).toEqual({ ofReading: 0.1, digits: 0.05, sum: 0.1 + 0.05 });
    expect(results.u.value).toBeCloseTo(0.15 / Math.sqrt(3), 12);
    expect(accept('meter-uncertainty', { ...meter, shape: 'normal' }).results.u.value).toBeCloseTo(0.075, 12);
  });

  it('counts the rounding of the display where no digits are stated', () => {
    const answer = accept('meter-uncertainty', { reading: -10, percentOfReading: 0, digits: 0, resolution: 0.1 });
    expect(answer.results.u.value).toBeCloseTo(0.05 / Math.sqrt(3), 12);
    expect(cautionCodes(answer)).toEqual(['display-rounding']);
  });
});
