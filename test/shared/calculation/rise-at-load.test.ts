import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

const run = { measuredRise: { value: 32, u: 1.5 }, measuredWatts: { value: 14, u: 0.4 } };
const ask = (given: object) => accept('rise-at-load', { ...run, ...given }).results;

describe('the rise with other watts', () => {
  it('is that of the heat run at its watts, with their doubt and no more', () => {
    const { rise, watts } = ask({ measuredWatts: 14, coreWatts: 10, copperWatts: 4 });
    expect(rise).toMatchObject({ value: 32, unit: 'K' });
    expect(rise.u).toBeCloseTo(1.5, 9);
    expect(watts).toMatchObject({ value: 14, unit: 'W' });
  });

  it('holds between the power 0.8 of the watts and their proportion, and its doubt reaches to both', () => {
    const twice = ask({ measuredRise: 32, measuredWatts: 14, coreWatts: 14, copperWatts: 14 }).rise;
    const [low, high] = [32 * 2 ** 0.8, 32 * 2];
    expect(twice.value).toBeGreaterThan(low);
    expect(twice.value).toBeLessThan(high);
    // Every power between is as likely: half the width over the square root of three (JCGM 100:2008, 4.3.7).
    expect(twice.u).toBeCloseTo((high - low) / 2 / Math.sqrt(3), 1);
  });

  it('rises with every watt, wherever it comes from', () => {
    const watts = fc.double({ min: 0.5, max: 100, noNaN: true });
    fc.assert(
      fc.property(watts, watts, watts, (coreWatts, copperWatts, more) => {
        const less = ask({ coreWatts, copperWatts });
        expect(ask({ coreWatts, copperWatts: copperWatts + more }).rise.value).toBeGreaterThan(less.rise.value);
        expect(ask({ coreWatts: coreWatts + copperWatts }).rise.value).toBeCloseTo(less.rise.value, 6);
      }),
      { seed: 20, numRuns: 60 },
    );
  });

  it('stands on the room, says that the windings are hotter, and that three times the watts is far', () => {
    const { celsius, rise } = ask({ coreWatts: 11, copperWatts: 9, ambientCelsius: 22 });
    expect(celsius?.value).toBeCloseTo(22 + rise.value, 9);
    const near = accept('rise-at-load', { ...run, coreWatts: 20 });
    expect(cautionCodes(near)).toEqual(['windings-hotter']);
    expect(cautionCodes(accept('rise-at-load', { ...run, coreWatts: 43 }))).toContain('far-beyond');
  });

  it('keeps a doubt that nobody knows unknown', () => {
    expect(ask({ measuredWatts: { value: 14, u: null }, coreWatts: 20 }).rise.u).toBeNull();
    expect(refusal('rise-at-load', { ...run, coreWatts: 0 })).toMatchObject({ path: 'coreWatts' });
  });
});
