import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept } from '../ask.ts';
import { close, known, options, between, scaled } from './law.ts';

/** A run of one body with a little unrest, so that the fits have something to weigh. */
const body = fc.record({
  start: between(10, 30),
  rise: between(20, 120),
  timeConstant: between(600, 6000),
  unrest: fc.array(between(-0.1, 0.1), { minLength: 6, maxLength: 12 }),
});
type Body = typeof body extends fc.Arbitrary<infer B> ? B : never;

const warming = ({ start, rise, timeConstant, unrest }: Body) =>
  unrest.map((off, index) => {
    const seconds = (2.5 * timeConstant * index) / (unrest.length - 1);
    return { seconds, celsius: { value: start - rise * Math.expm1(-seconds / timeConstant) + off, u: 0.2 } };
  });
const cooling = ({ start, rise, timeConstant, unrest }: Body) =>
  unrest.map((off, index) => {
    const seconds = timeConstant * (0.01 + (2.5 * index) / (unrest.length - 1));
    return { seconds, celsius: { value: start + rise * Math.exp(-seconds / timeConstant) + off, u: 0.2 } };
  });

const shifted = <P extends { readonly celsius: { readonly value: number; readonly u: number } }>(
  points: readonly P[],
  kelvin: number,
) => points.map((each) => ({ ...each, celsius: { ...each.celsius, value: each.celsius.value + kelvin } }));
const slower = <P extends { readonly seconds: number }>(points: readonly P[], times: number) =>
  points.map((each) => ({ ...each, seconds: each.seconds * times }));

describe('laws of a heat run', () => {
  const run = (points: object) => accept('heat-run', { points }).results;

  it('does not care in which order the points come', () => {
    fc.assert(
      fc.property(body, (given) => {
        const [forth, back] = [run(warming(given)), run([...warming(given)].reverse())];
        scaled(back.finalCelsius, forth.finalCelsius, 1, 1e-5);
        scaled(back.timeConstant, forth.timeConstant, 1, 1e-4);
      }),
      options,
    );
  });

  it('does not care in which unit of time the clock runs, nor where the scale begins', () => {
    fc.assert(
      fc.property(body, between(0.2, 20), between(-40, 200), (given, times, kelvin) => {
        const [one, slow, warm] = [
          run(warming(given)),
          run(slower(warming(given), times)),
          run(shifted(warming(given), kelvin)),
        ];
        scaled(slow.timeConstant, one.timeConstant, times, 1e-4);
        close(slow.finalCelsius.value, one.finalCelsius.value, 1e-5);
        scaled(warm.timeConstant, one.timeConstant, 1, 1e-4);
        expect(Math.abs(warm.finalCelsius.value - one.finalCelsius.value - kelvin)).toBeLessThan(1e-3);
      }),
      options,
    );
  });

  it('comes back to the body that made it', () => {
    fc.assert(
      fc.property(body, (given) => {
        const still = { ...given, unrest: given.unrest.map(() => 0) };
        const { finalCelsius, timeConstant, startCelsius } = run(warming(still));
        close(finalCelsius.value, given.start + given.rise, 1e-6);
        close(timeConstant.value, given.timeConstant, 1e-5);
        close(startCelsius.value, given.start, 1e-5);
      }),
      options,
    );
  });
});

describe('laws of cooling', () => {
  const run = (points: object) => accept('cooling', { points }).results;

  it('does not care about the order of the points nor the unit of time', () => {
    fc.assert(
      fc.property(body, between(0.2, 20), (given, times) => {
        const [one, back, slow] = [
          run(cooling(given)),
          run([...cooling(given)].reverse()),
          run(slower(cooling(given), times)),
        ];
        scaled(back.atSwitchOff, one.atSwitchOff, 1, 1e-5);
        scaled(slow.atSwitchOff, one.atSwitchOff, 1, 1e-5);
        scaled(slow.timeConstant, one.timeConstant, times, 1e-4);
      }),
      options,
    );
  });

  it('finds where it began', () => {
    fc.assert(
      fc.property(body, (given) => {
        const still = { ...given, unrest: given.unrest.map(() => 0) };
        close(run(cooling(still)).atSwitchOff.value, given.start + given.rise, 1e-6);
      }),
      options,
    );
  });
});

describe('laws of duty', () => {
  const thermal = fc
    .record({ finalRise: between(60, 300), timeConstant: between(300, 6000), part: between(0.2, 0.9) })
    .map(({ finalRise, timeConstant, part }) => ({ finalRise, timeConstant, limitRise: finalRise * part }));
  const ask = (given: object) => accept('duty', given).results;

  it('lets it stay on longer for a higher limit, and less long for a hotter load', () => {
    fc.assert(
      fc.property(thermal, between(1.01, 1.1), (given, by) => {
        const on = (more: object) => ask({ ...given, ...more }).longestOnFromCold?.value ?? Infinity;
        expect(on({ limitRise: given.limitRise * by })).toBeGreaterThan(on({}));
        expect(on({ finalRise: given.finalRise * by })).toBeLessThan(on({}));
        close(on({ timeConstant: given.timeConstant * by }), by * on({}));
      }),
      options,
    );
  });

  it('asks for a longer pause after a longer on', () => {
    fc.assert(
      fc.property(thermal, between(0.05, 0.8), between(1.01, 1.2), (given, part, by) => {
        const onSeconds = part * (ask(given).longestOnFromCold?.value ?? NaN);
        const off = (seconds: number) => ask({ ...given, onSeconds: seconds }).offNeeded?.value ?? Infinity;
        expect(off(onSeconds * by)).toBeGreaterThan(off(onSeconds));
      }),
      options,
    );
  });

  it('peaks at the limit with just the pause that it asked for', () => {
    fc.assert(
      fc.property(thermal, between(0.05, 0.95), (given, part) => {
        const onSeconds = part * (ask(given).longestOnFromCold?.value ?? NaN);
        const offSeconds = ask({ ...given, onSeconds }).offNeeded?.value;
        close(ask({ ...given, onSeconds, offSeconds }).peakRiseRepeating?.value, given.limitRise);
      }),
      options,
    );
  });

  it('never lets the winding stay on longer than without counting it', () => {
    fc.assert(
      fc.property(thermal, between(0.5, 30), fc.constantFrom('copper', 'aluminium'), (given, currentDensity, metal) => {
        const counted = ask({ ...given, currentDensity, metal });
        expect(counted.longestOnFromCold?.value).toBeLessThanOrEqual(ask(given).longestOnFromCold?.value ?? NaN);
        const harder = ask({ ...given, currentDensity: 2 * currentDensity, metal });
        close(harder.adiabaticSeconds?.value, (counted.adiabaticSeconds?.value ?? NaN) / 4);
      }),
      options,
    );
  });
});

describe('laws of resistance and temperature', () => {
  const metal = fc.constantFrom('copper', 'aluminium');

  it('comes back to the cold winding when asked the other way round', () => {
    fc.assert(
      fc.property(between(0.5, 50), between(10, 30), between(1.05, 1.6), metal, (ohms, cold, ratio, of) => {
        const ask = (coldOhms: number, coldCelsius: number, hotOhms: number) =>
          accept('temperature-by-resistance', { coldOhms, coldCelsius, hotOhms, ambientCelsius: 20, metal: of })
            .results;
        const { hotCelsius } = ask(ohms, cold, ohms * ratio);
        expect(hotCelsius.value).toBeGreaterThan(cold);
        close(ask(ohms * ratio, hotCelsius.value, ohms).hotCelsius.value, cold);
      }),
      options,
    );
  });

  it('does not care about the unit of resistance', () => {
    fc.assert(
      fc.property(between(0.5, 50), between(1.05, 1.6), between(0.001, 1000), metal, (ohms, ratio, by, of) => {
        const ask = (k: number) =>
          accept('temperature-by-resistance', {
            coldOhms: known(ohms * k, 0.2),
            coldCelsius: 20,
            hotOhms: known(ohms * ratio * k, 0.2),
            ambientCelsius: 21,
            metal: of,
          }).results;
        scaled(ask(by).rise, ask(1).rise, 1);
      }),
      options,
    );
  });

  it('agrees with the resistance that a wire has at both temperatures', () => {
    fc.assert(
      fc.property(between(0.2, 3), between(0, 40), between(1, 120), metal, (diameterMm, cold, kelvin, of) => {
        const ohms = (celsius: number) => accept('wire', { diameterMm, celsius, metal: of }).results.ohmsPerKm.value;
        const { hotCelsius } = accept('temperature-by-resistance', {
          coldOhms: ohms(cold),
          coldCelsius: cold,
          hotOhms: ohms(cold + kelvin),
          ambientCelsius: 20,
          metal: of,
        }).results;
        close(hotCelsius.value, cold + kelvin);
      }),
      options,
    );
  });

  it('reads the same ohms with the current the other way round', () => {
    fc.assert(
      fc.property(between(0.1, 5), between(0.001, 1), between(0.9, 1.1), metal, (amps, volts, part, of) => {
        const ask = (forth: number, back: number) =>
          accept('four-wire-resistance', {
            amps: known(amps, 0.3),
            volts: known(forth, 0.2),
            voltsReversed: known(-back, 0.2),
            celsius: 22,
            metal: of,
          }).results;
        const [one, other] = [ask(volts, volts * part), ask(volts * part, volts)];
        scaled(other.ohms, one.ohms, 1);
        scaled(other.thermoVolts, one.thermoVolts, -1);
      }),
      options,
    );
  });
});
