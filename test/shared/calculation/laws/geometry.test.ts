import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept } from '../ask.ts';
import { close, factor, known, options, between, scaled } from './law.ts';

describe('laws of geometry and flux', () => {
  it('doubles the widest wire when both sides of the window double', () => {
    fc.assert(
      fc.property(
        between(5, 100),
        between(5, 100),
        fc.integer({ min: 1, max: 500 }),
        between(0.2, 0.9),
        (w, h, turns, fill) => {
          const wire = (by: number) =>
            accept('widest-wire', { windowWidthMm: w * by, windowHeightMm: h * by, turns, fill }).results
              .overallDiameter.value;
          close(wire(2), 2 * wire(1));
        },
      ),
      options,
    );
  });

  it('keeps the flux density when volts and hertz change together', () => {
    fc.assert(
      fc.property(
        between(10, 400),
        between(20, 400),
        between(50, 800),
        between(200, 5000),
        between(0.2, 5),
        (volts, hertz, turns, ironAreaMm2, by) => {
          const at = (k: number) =>
            accept('flux-density', { volts: volts * k, hertz: hertz * k, turns, ironAreaMm2 }).results.peakFluxDensity
              .value;
          close(at(by), at(1));
        },
      ),
      options,
    );
  });

  it('makes the power of a core go with the fourth power of its size', () => {
    const core = fc.record({
      tongueMm: between(15, 60),
      stackMm: between(15, 90),
      windowWidthMm: between(8, 40),
      windowHeightMm: between(20, 100),
    });
    fc.assert(
      fc.property(core, factor, (sides, by) => {
        const at = (k: number) =>
          accept(
            'core-rating',
            Object.fromEntries(Object.entries(sides).map(([key, side]) => [key, known(side * k, 0.5)])),
          ).results;
        scaled(at(by).areaProduct, at(1).areaProduct, by ** 4);
        scaled(at(by).windowArea, at(1).windowArea, by ** 2);
        scaled(at(by).meanTurnLength, at(1).meanTurnLength, by);
      }),
      options,
    );
  });

  it('makes a joint gap go with turns and amps, and against the flux density', () => {
    fc.assert(
      fc.property(between(50, 400), between(0.05, 3), between(0.8, 1.8), factor, (turns, amps, tesla, by) => {
        const gap = (n: number, i: number, b: number) =>
          accept('joint-gap', { turns: n, addedAmps: known(i, 1), peakTesla: known(b, 1) }).results.gapMm;
        scaled(gap(turns * by, amps, tesla), gap(turns, amps, tesla), by);
        scaled(gap(turns, amps * by, tesla), gap(turns, amps, tesla), by);
        scaled(gap(turns, amps, tesla * by), gap(turns, amps, tesla), 1 / by);
      }),
      options,
    );
  });

  it('finds the turns that bring the flux density to the target', () => {
    fc.assert(
      fc.property(
        between(50, 400),
        between(40, 70),
        between(300, 4000),
        between(0.5, 1.8),
        (volts, hertz, area, tesla) => {
          const ask = (turns: number) =>
            accept('flux-density', { volts, hertz, turns, ironAreaMm2: area, targetTesla: tesla }).results;
          const { turnsForTarget } = ask(100);
          close(ask(turnsForTarget?.value ?? NaN).peakFluxDensity.value, tesla);
        },
      ),
      options,
    );
  });
});

describe('laws of a winding in its window', () => {
  const window = fc.record({
    windowWidthMm: between(10, 60),
    windowHeightMm: between(20, 120),
    marginMm: between(0.001, 3),
    interlayerMm: between(0.001, 0.3),
    turns: fc.integer({ min: 1, max: 400 }),
    overallDiameterMm: between(0.3, 3),
  });
  const fit = (given: object) => accept('window-fit', given).results;

  it('never takes more room for fewer turns, and what fits goes on to fit', () => {
    fc.assert(
      fc.property(window, fc.nat({ max: 50 }), (given, fewer) => {
        const less = fit({ ...given, turns: Math.max(1, given.turns - fewer) });
        const all = fit(given);
        expect(less.layers).toBeLessThanOrEqual(all.layers);
        expect(less.buildHeight.value).toBeLessThanOrEqual(all.buildHeight.value * (1 + 1e-9));
        if (all.fits) expect(less.fits).toBe(true);
      }),
      options,
    );
  });

  it('is one picture at any scale', () => {
    fc.assert(
      fc.property(window, factor, ({ turns, ...sizes }, by) => {
        const [one, other] = [fit({ turns, ...sizes }), fit({ turns, ...times(sizes, by) })];
        expect(other.layers).toBe(one.layers);
        expect(other.fits).toBe(one.fits);
        scaled(other.buildHeight, one.buildHeight, by);
        close(other.fill.value, one.fill.value);
      }),
      options,
    );
  });

  it('takes as many turns as it says, and not one more', () => {
    fc.assert(
      fc.property(window, (given) => {
        const { mostTurns } = fit(given);
        if (mostTurns >= 1) expect(fit({ ...given, turns: mostTurns }).fits).toBe(true);
        expect(fit({ ...given, turns: mostTurns + 1 }).fits).toBe(false);
      }),
      options,
    );
  });

  const times = (sizes: Readonly<Record<string, number>>, by: number) =>
    Object.fromEntries(Object.entries(sizes).map(([key, size]) => [key, size * by]));
});
