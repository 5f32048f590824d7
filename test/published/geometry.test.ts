import { describe, expect, it } from 'vitest';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { accept, cautionCodes } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

const codes = (fill: number) =>
  cautionCodes(accept('widest-wire', { windowWidthMm: 20, windowHeightMm: 60, turns: 30, fill }));

describe('geometry', () => {
  it('GEO-01: knows square and hexagonal packing of round wire', () => {
    expect(codes(0.785398)).not.toContain('fill-above-square-packing');
    expect(codes(0.785399)).toContain('fill-above-square-packing');
    expect(codes(0.906899)).not.toContain('fill-impossible');
    expect(codes(0.906901)).toContain('fill-impossible');
    const { bareDiameter, overallDiameter } = accept('wire', { diameterMm: 1, film: 'iec-grade-2' }).results;
    within((bareDiameter.value / (overallDiameter?.value ?? NaN)) ** 2, 0.8355, 0.00005);
  });

  // Fitzgerald, Kingsley & Umans, ex. 1.8 (0.94); Theraja, ex. 32.2 (0.9); 0.95 to 0.97 for 0.35 to 0.5 mm.
  it('GEO-03: assumes a stacking factor whose interval holds the usual ones', () => {
    const { ironArea } = accept('core-rating', { tongueMm: 10, stackMm: 10 }).results;
    const [low = NaN, high = NaN] = ironArea?.interval95 ?? [];
    expect(low / 100).toBeLessThan(0.94);
    expect(high / 100).toBeGreaterThan(0.965);
  });

  // IEC 60740-1 type YEI1 and DIN 41302-1, scrapless laminations. From memory, recomputed; other sizes of the
  // standard (EI 92, 106, 130 ...) are not on this ratio.
  it.each(Object.entries(checks['GEO-04'].expected))('GEO-04: %s', (_, row) => {
    const { results } = accept('core-rating', {
      tongueMm: row.tongue,
      stackMm: row.tongue,
      stackingFactor: 1,
      windowWidthMm: row.window_w,
      windowHeightMm: row.window_h,
    });
    within(results.windowArea?.value, row.window_area_mm2, 0.1);
    expect(row.window_w).toBe(row.tongue / 2);
    expect(row.window_h).toBe(row.tongue * 1.5);
  });
});

describe('common practice, no source', () => {
  it('gives about 100 W to the pound of a welded appliance transformer', () => {
    const perPound = (accept('core-rating', { massKg: 1 }).results.shortTermPower?.value ?? NaN) * 0.45359237;
    within(perPound, 100, 0.5);
  });

  it('calls the range of such cores about 500 to 1500 W', () => {
    expect(accept('core-rating', { massKg: 4 }).results.shortTermPowerRange).toEqual([500, 1500]);
  });

  it('finds about one turn per volt, so near 120 turns, with ten turns of scrap wire', () => {
    const { results } = accept('test-coil', { readings: [{ coilTurns: 10, coilVolts: 10, primaryVolts: 120 }] });
    expect(results.nearestWholeTurns).toBe(120);
    expect(results.voltsPerTurn.value).toBe(1);
  });

  it('fills 50 to 60 % of the window by hand and about 80 % by machine', () => {
    expect(codes(0.5)).toEqual([]);
    expect(codes(0.6)).toEqual([]);
    expect(codes(0.61)).toEqual(['fill-above-hand']);
  });

  it('takes as widest wire one of area width x height x fill / N', () => {
    const { results } = accept('widest-wire', { windowWidthMm: 20, windowHeightMm: 50, turns: 25, fill: 0.5 });
    expect(results.areaPerTurn.value).toBe(20);
    within(results.overallDiameter.value, 2 * Math.sqrt(20 / Math.PI), 1e-12);
  });

  it('puts about 200 V on 2000 turns beside a 120-turn primary at 12 V', () => {
    const { highestVolts } = accept('winding-volts', {
      windings: [
        { name: 'primary', role: 'primary', turns: 120 },
        { name: 'high', role: 'other', turns: 2000 },
      ],
      fedIndex: 0,
      feedVolts: 12,
    }).results;
    expect(highestVolts?.value).toBe(200);
  });
});
