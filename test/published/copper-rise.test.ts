import { describe, expect, it } from 'vitest';
import { accept } from '../shared/calculation/ask.ts';

/** Temperature and rise of copper windings by their resistance. */
describe('rise by resistance, against published values', () => {
  // IEC 60076-2:2011 (formula and constants); IEC 60034-1 (235): pure arithmetic with each constant.
  it.each([
    [{ metal: 'copper' }, 83.625],
    [{ constantCelsius: 235 }, 83.75],
    [{ metal: 'aluminium' }, 81.25],
  ])('CU-02 R2/R1 = 1.25 from 20 °C with %j', (constant, hot) => {
    const input = { coldOhms: 1, coldCelsius: 20, hotOhms: 1.25, ambientCelsius: 20, ...constant };
    expect(accept('temperature-by-resistance', input).results.hotCelsius.value).toBeCloseTo(hot, 9);
  });

  // Kulshreshtha, Basic Electrical Engineering, Ex. 2.18 p. 32; with alpha0 = 0.00426 as the book has it.
  it('CU-03 Kulshreshtha, Ex. 2.18', () => {
    const input = { coldOhms: 3.42, coldCelsius: 20, hotOhms: 4.22, ambientCelsius: 20, constantCelsius: 1 / 0.00426 };
    const { hotCelsius, rise } = accept('temperature-by-resistance', input).results;
    expect(Math.abs(hotCelsius.value - 79.59)).toBeLessThan(0.01);
    expect(Math.abs(rise.value - 59.59)).toBeLessThan(0.01);
  });

  // Muthusubramanian and Salivahanan, Basic Electrical and Electronics Engineering, Ex. 1.7 p. 22; alpha0 = 0.004.
  it('CU-04 Muthusubramanian and Salivahanan, Ex. 1.7', () => {
    const input = { coldOhms: 45, coldCelsius: 20, hotOhms: 48.5, ambientCelsius: 20, constantCelsius: 1 / 0.004 };
    expect(Math.abs(accept('temperature-by-resistance', input).results.hotCelsius.value - 41)).toBeLessThan(0.05);
  });

  // The same, Ex. 1.23 p. 30 (18 and 20 ohm at 20 and 50 °C give the constant 250) and Ex. 1.22 p. 29 (constant 230).
  it.each([
    [{ coldOhms: 18, hotOhms: 21, constantCelsius: 250 }, 65, 50],
    [{ coldOhms: 100, hotOhms: 124, constantCelsius: 230 }, 80, 65],
  ])(
    'CU-05 and CU-06 Muthusubramanian and Salivahanan: the rise from the ambient at the end, %j',
    (readings, hot, rise) => {
      const { results } = accept('temperature-by-resistance', { ...readings, coldCelsius: 20, ambientCelsius: 15 });
      expect(results.hotCelsius.value).toBeCloseTo(hot, 6);
      expect(results.rise.value).toBeCloseTo(rise, 6);
    },
  );
});
