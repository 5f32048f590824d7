import { describe, expect, it } from 'vitest';
import { accept } from '../shared/calculation/ask.ts';

describe('no-load current in two parts, against published values', () => {
  // Fitzgerald, Kingsley and Umans, Electric Machinery, 6th ed., Ex. 2.1 p. 63: 16 W, 20 VA at 194 V.
  it('EMF-09 Fitzgerald, Kingsley and Umans, Ex. 2.1', () => {
    const { results } = accept('no-load', { volts: 194, amps: 20 / 194, watts: 16, hertz: 60 });
    expect(results.powerFactor?.value).toBeCloseTo(0.8, 12);
    expect(Math.abs((results.coreLossCurrent?.value ?? NaN) - 0.082)).toBeLessThan(0.001);
    expect(Math.abs((results.magnetisingCurrent?.value ?? NaN) - 0.062)).toBeLessThan(0.001);
  });

  // Kulshreshtha, Basic Electrical Engineering, Ex. 13.7 p. 380: 350 VA, 110 W at 230 V.
  it('EMF-10 Kulshreshtha, Ex. 13.7', () => {
    const { results } = accept('no-load', { volts: 230, amps: 350 / 230, watts: 110 });
    expect(Math.abs((results.coreLossCurrent?.value ?? NaN) - 0.4783)).toBeLessThan(1e-4);
    expect(Math.abs((results.magnetisingCurrent?.value ?? NaN) - 1.4446)).toBeLessThan(1e-4);
    expect(Math.abs((results.powerFactor?.value ?? NaN) - 0.3143)).toBeLessThan(1e-4);
  });

  // IEC 60076-1:2011, correction for the wave: formula from memory, numbers our own arithmetic.
  it('WF-01 IEC 60076-1 wave correction', () => {
    const input = { volts: 230, amps: 0.5, watts: 40, voltsAverageResponding: 225, setBy: 'average-responding' };
    expect(accept('no-load', input).results.coreLoss?.value).toBeCloseTo(40 * (1 - 0.0222222222), 6);
  });
});
