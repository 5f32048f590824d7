import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

const given = { volts: 230, amps: 0.5, watts: 40, hertz: 50 };

describe('no load', () => {
  it('splits the current so that the parts add up squared', () => {
    const { results } = accept('no-load', { ...given, primaryOhms: 8 });
    const [iw, im] = [results.coreLossCurrent?.value ?? NaN, results.magnetisingCurrent?.value ?? NaN];
    expect(Math.hypot(iw, im)).toBeCloseTo(0.5, 12);
    expect(results.copperLoss?.value).toBeCloseTo(2, 12);
    expect(results.coreLoss?.value).toBeCloseTo(38, 12);
  });

  it('is the circuit that takes the measured volts, amps and watts', () => {
    const { results } = accept('no-load', { ...given, primaryOhms: 8 });
    const [r, x] = [results.coreLossResistance?.value ?? NaN, results.magnetisingReactance?.value ?? NaN];
    // R and jX in parallel, in series with 8 Ω.
    const g = 1 / r;
    const b = 1 / x;
    const real = 8 + g / (g * g + b * b);
    const imaginary = b / (g * g + b * b);
    expect(230 / Math.hypot(real, imaginary)).toBeCloseTo(0.5, 12);
    expect(0.25 * real).toBeCloseTo(40, 12);
  });

  it('answers without watts, and says that the loss is not known', () => {
    const answer = accept('no-load', { volts: 230, amps: 0.5 });
    expect(answer.results).toMatchObject({ isLossKnown: false, apparentPower: { value: 115, unit: 'VA' } });
    expect(answer.results).not.toHaveProperty('coreLoss');
    expect(cautionCodes(answer)).toEqual(['loss-not-known', 'hertz-not-given']);
  });

  it.each([
    ['average-responding', 225, 40 * (1 - 5 / 225), true],
    ['average-responding', 222, 40, false],
    ['true-rms', 225, 40, false],
    [undefined, 225, 40 * (1 - 5 / 225), true],
  ])('corrects for the wave when set by %s at %d V', (setBy, voltsAverageResponding, watts, corrected) => {
    const answer = accept('no-load', { ...given, voltsAverageResponding, ...(setBy === undefined ? {} : { setBy }) });
    expect(answer.results.coreLoss?.value).toBeCloseTo(watts, 12);
    expect(cautionCodes(answer).includes('wave-not-corrected')).toBe(!corrected);
    expect(cautionCodes(answer).includes('wave-assumed-set')).toBe(setBy === undefined);
  });

  it('warns of an average-responding ammeter', () => {
    expect(cautionCodes(accept('no-load', { ...given, ammeterKind: 'average-responding' }))).toContain('peaky-current');
  });

  it('moves each input in every place at once', () => {
    // Iw = P / U without copper: relative squares add.
    const doubtful = { volts: { value: 230, u: 2.3 }, amps: 0.5, watts: { value: 40, u: 0.8 } };
    const { coreLossCurrent } = accept('no-load', doubtful).results;
    expect(coreLossCurrent?.u).toBeCloseTo((40 / 230) * Math.hypot(0.01, 0.02), 9);
  });

  it.each([
    [{ watts: 115 }, 'watts'],
    [{ primaryOhms: 160 }, 'primaryOhms'],
  ])('refuses %j', (extra, path) => {
    expect(refusal('no-load', { ...given, ...extra })).toMatchObject({ code: 'conflict', path });
  });
});
