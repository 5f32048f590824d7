import { describe, expect, it } from 'vitest';
import { accept } from '../shared/calculation/ask.ts';

describe('gap by its ampere-turns, against a published value', () => {
  // Fitzgerald, Kingsley and Umans, Electric Machinery, 6th ed., Ex. 1.1: N = 500, B = 1.0 T, gap 0.050 cm, i = 0.80 A;
  // from memory, recomputed. The core takes 0.9 % of the ampere-turns, and the current is printed to two figures.
  it('Fitzgerald, Kingsley and Umans, Ex. 1.1', () => {
    const { gapMm } = accept('joint-gap', { turns: 500, addedAmps: 0.8 / Math.SQRT2, peakTesla: 1 }).results;
    expect(Math.abs(gapMm.value - 0.5) / 0.5).toBeLessThan(0.015);
  });
});

describe('resistivity from a winding, against published values', () => {
  // Wire table for standard annealed copper at 20 °C, AWG 10, 14 and 20 (ASTM B258 diameters; NBS Circular 31).
  it.each([
    [2.5882, 3.2771],
    [1.6277, 8.2855],
    [0.81182, 33.309],
  ])('%d mm wire with %d Ω/km is copper of 1/58 Ω mm²/m', (bareDiameterMm, ohms) => {
    const input = { ohms, celsius: 20, turns: 1000, bareDiameterMm, meanTurnMm: 1000 };
    const { resistivity, metal } = accept('winding-metal', input).results;
    expect(metal).toBe('copper');
    expect(Math.abs(resistivity.value * 58 - 1)).toBeLessThan(1e-4);
  });
});
