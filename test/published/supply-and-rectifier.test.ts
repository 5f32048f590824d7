import { describe, expect, it } from 'vitest';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { accept } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

describe('branch circuits, against the US code and common practice', () => {
  // NEC (NFPA 70), 210.19(A) and 210.20(A): continuous load at most 80 % of the overcurrent device.
  it.each([
    [15, 12],
    [20, 16],
  ])('SAFE-01 %d A breaker: %d A continuous', (breakerAmps, amps) => {
    const input = { volts: 120, breakerAmps, continuous: true, loads: [{ voltAmperes: 120 * amps }] };
    const { watts, loadFraction } = accept('supply-circuit', input).results;
    within(watts.value, 120 * amps, 1e-9);
    within(loadFraction.value, 1, 1e-12);
  });

  // Common practice, no source: 1800 W on a household circuit of 120 V and 15 A, about two such transformers.
  it('a household circuit carries about two appliance transformers', () => {
    const input = { volts: 120, breakerAmps: 15, continuous: false, loads: [], unitVoltAmperes: 900 };
    expect(accept('supply-circuit', input).results).toMatchObject({ watts: { value: 1800 }, unitsThatFit: 2 });
  });
});

describe('rectifiers, against handbook relations', () => {
  const secondary = (circuit: string, filter: string, dcVolts: number, diodeVolts: number) =>
    accept('rectifier', { dcVolts, dcAmps: 1, circuit, filter, diodeVolts }).results;

  // From memory, recomputed: relations of full-wave rectifiers (ARRL Handbook, power supplies; Schade 1943).
  it('RECT-01 direct volts of 20 V r.m.s.', () => {
    within(secondary('bridge', 'capacitor', Math.SQRT2 * 20 - 1.6, 0.8).secondaryVolts.value, 20, 1e-9);
    within(secondary('bridge', 'none', 0.9003 * 20 - 1.6, 0.8).secondaryVolts.value, 20, 0.02);
    within(secondary('centre-tap', 'none', 0.9003 * 20 - 0.8, 0.8).secondaryVolts.value, 20, 0.02);
  });

  it('RECT-01 secondary current of a bridge', () => {
    const capacitor = secondary('bridge', 'capacitor', 20, 0.8).secondaryAmps;
    expect([capacitor.from.value, capacitor.to.value]).toEqual([1.6, 1.8]);
    const choke = secondary('bridge', 'choke', 20, 0.8).secondaryAmps;
    within(choke.from.value, 1, 1e-12);
    within(choke.to.value, 1.11, 0.001);
    expect(checks['RECT-01'].expected['secondary rms current, bridge + capacitor']).toContain('1.6-1.8');
  });
});

describe('fuses and surge, against the US code and own arithmetic', () => {
  // NEC Table 450.3(B), primary protection only, from memory: 125 % from 9 A, 167 % below, 300 % under 2 A.
  it.each([
    [10, 12.5],
    [9, 11.25],
    [5, 8.35],
    [2, 3.34],
    [1, 3],
  ])('%d A rated: at most %d A', (ratedAmps, most) => {
    const input = { volts: 120, supplyOhms: 0.3, primaryOhms: 0.4, ratedAmps, rule: 'us-primary-only' };
    within(accept('inrush-and-fuse', input).results.fuseTo.value, most, 1e-9);
  });
});
