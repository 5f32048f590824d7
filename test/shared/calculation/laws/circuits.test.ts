import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept } from '../ask.ts';
import { close, factor, known, options, between, scaled } from './law.ts';

/** What a voltmeter, an ammeter and a wattmeter read, with half a per cent of doubt each. */
const readings = fc
  .record({ volts: between(5, 250), amps: between(0.1, 10), powerFactor: between(0.1, 0.9) })
  .map(({ volts, amps, powerFactor }) => ({
    volts: known(volts, 0.5),
    amps: known(amps, 0.5),
    watts: known(volts * amps * powerFactor, 0.5),
  }));
type Readings = typeof readings extends fc.Arbitrary<infer R> ? R : never;

/** The same circuit at volts and amps so many times as large. */
const at = ({ volts, amps, watts }: Readings, v: number, i: number): Readings => {
  const by = ({ value, u }: { readonly value: number; readonly u: number }, k: number) => ({
    value: value * k,
    u: u * k,
  });
  return { volts: by(volts, v), amps: by(amps, i), watts: by(watts, v * i) };
};

describe('laws of the equivalent circuit', () => {
  const tests = fc.record({ open: readings, short: readings, turnsRatio: between(1, 30) });
  const circuit = (open: Readings, short: Readings, turnsRatio: number, referTo: 'high' | 'low') =>
    accept('equivalent-circuit', {
      openCircuit: { ...open, side: 'low' },
      shortCircuit: { ...short, side: 'high' },
      turnsRatio,
      referTo,
    }).results;
  const keys = [
    'coreLossResistance',
    'magnetisingReactance',
    'equivalentResistance',
    'equivalentReactance',
    'equivalentImpedance',
  ] as const;

  it('has every impedance on the high side the ratio squared times that on the low one', () => {
    fc.assert(
      fc.property(tests, ({ open, short, turnsRatio }) => {
        const [high, low] = [circuit(open, short, turnsRatio, 'high'), circuit(open, short, turnsRatio, 'low')];
        for (const key of keys) scaled(high[key], low[key], turnsRatio ** 2);
      }),
      options,
    );
  });

  it('keeps its impedances where volts and amps grow together, and scales them where one grows', () => {
    fc.assert(
      fc.property(tests, factor, factor, ({ open, short, turnsRatio }, v, i) => {
        const one = circuit(open, short, turnsRatio, 'low');
        const other = circuit(at(open, v, i), at(short, v, i), turnsRatio, 'low');
        for (const key of keys) scaled(other[key], one[key], v / i);
      }),
      options,
    );
  });

  it('has resistance and reactance at right angles', () => {
    fc.assert(
      fc.property(tests, ({ open, short, turnsRatio }) => {
        const found = circuit(open, short, turnsRatio, 'low');
        const { equivalentResistance: r, equivalentReactance: x, equivalentImpedance: z } = found;
        close(Math.hypot(r.value, x.value), z.value);
      }),
      options,
    );
  });

  it('takes the watts and the volt-amperes that were read', () => {
    fc.assert(
      fc.property(tests, ({ open, short }) => {
        const found = circuit(open, short, 1, 'low');
        const watts = open.volts.value ** 2 / found.coreLossResistance.value;
        const reactive = open.volts.value ** 2 / found.magnetisingReactance.value;
        close(watts, open.watts.value);
        close(Math.hypot(watts, reactive), open.volts.value * open.amps.value);
        close(short.amps.value ** 2 * found.equivalentResistance.value, short.watts.value);
      }),
      options,
    );
  });
});

describe('laws of no load', () => {
  // A winding that takes at most half of the watts.
  const bench = fc.record({ given: readings, part: between(0.01, 0.5) }).map(({ given, part }) => ({
    ...given,
    primaryOhms: (part * given.watts.value) / given.amps.value ** 2,
  }));

  it('loses in iron and copper what the wattmeter read', () => {
    fc.assert(
      fc.property(bench, (given) => {
        const { results } = accept('no-load', given);
        close((results.coreLoss?.value ?? NaN) + (results.copperLoss?.value ?? NaN), given.watts.value);
        close((results.powerFactor?.value ?? NaN) * results.apparentPower.value, given.watts.value);
      }),
      options,
    );
  });

  it('has two currents at right angles that make up the one that was read', () => {
    fc.assert(
      fc.property(bench, (given) => {
        const { coreLossCurrent, magnetisingCurrent } = accept('no-load', given).results;
        close(Math.hypot(coreLossCurrent?.value ?? NaN, magnetisingCurrent?.value ?? NaN), given.amps.value);
      }),
      options,
    );
  });

  it('agrees with the parallel branch of the equivalent circuit', () => {
    fc.assert(
      fc.property(bench, (given) => {
        const { primaryOhms, ...open } = given;
        const branch = accept('equivalent-circuit', {
          openCircuit: { ...open, windingOhms: primaryOhms, side: 'low' },
          shortCircuit: { volts: 1, amps: 1, watts: 0.5, side: 'low' },
          turnsRatio: 1,
          referTo: 'low',
        }).results;
        const { coreLossResistance, magnetisingReactance } = accept('no-load', given).results;
        scaled(coreLossResistance, branch.coreLossResistance, 1);
        scaled(magnetisingReactance, branch.magnetisingReactance, 1);
      }),
      options,
    );
  });
});

describe('laws of load', () => {
  const load = fc.record({
    ratedVolts: between(5, 250),
    amps: between(0.1, 30),
    powerFactor: between(0.05, 1),
    sense: fc.constantFrom('lagging', 'leading'),
    equivalentResistance: between(0.001, 0.5),
    equivalentReactance: between(0.001, 0.5),
    coreLossWatts: between(1, 100),
  });
  const run = (given: object) => accept('load-performance', given).results;

  it('puts out what it takes in, less what it loses', () => {
    fc.assert(
      fc.property(load, (given) => {
        const { efficiencyPercent, copperLoss } = run(given);
        const output = given.ratedVolts * given.amps * given.powerFactor;
        const input = (100 * output) / (efficiencyPercent?.value ?? NaN);
        close(input - output, copperLoss.value + given.coreLossWatts);
      }),
      options,
    );
  });

  it('is at its best where it says, and worse at any other load', () => {
    fc.assert(
      fc.property(load, between(0.3, 3), (given, by) => {
        const { ampsForBestEfficiency, loadForBestEfficiency } = run(given);
        const best = ampsForBestEfficiency?.value ?? NaN;
        close(best, given.amps * (loadForBestEfficiency?.value ?? NaN));
        const efficiency = (amps: number) => run({ ...given, amps }).efficiencyPercent?.value ?? NaN;
        expect(efficiency(best)).toBeGreaterThanOrEqual(efficiency(best * by) - 1e-9);
      }),
      options,
    );
  });

  it('asks the source for more volts the more it is loaded with lag', () => {
    fc.assert(
      fc.property(load, between(1.01, 3), (given, by) => {
        const lagging = { ...given, sense: 'lagging' };
        const volts = (amps: number) => run({ ...lagging, amps }).sourceVolts.value;
        expect(volts(given.amps * by)).toBeGreaterThan(volts(given.amps));
        expect(run(lagging).sourceVolts.value).toBeGreaterThanOrEqual(
          run({ ...given, sense: 'leading' }).sourceVolts.value,
        );
      }),
      options,
    );
  });

  it('keeps regulation and efficiency where volts and ohms are seen from the other side', () => {
    fc.assert(
      fc.property(load, between(0.1, 10), (given, ratio) => {
        const { ratedVolts, amps, equivalentResistance, equivalentReactance } = given;
        const other = run({
          ...given,
          ratedVolts: ratedVolts * ratio,
          amps: amps / ratio,
          equivalentResistance: equivalentResistance * ratio ** 2,
          equivalentReactance: equivalentReactance * ratio ** 2,
        });
        const one = run(given);
        expect(Math.abs(other.regulationPercent.value - one.regulationPercent.value)).toBeLessThan(1e-9);
        close(other.efficiencyPercent?.value, one.efficiencyPercent?.value);
        close(other.copperLoss.value, one.copperLoss.value);
      }),
      options,
    );
  });
});

describe('laws of power without a wattmeter', () => {
  it('goes with volts times amps', () => {
    // Three currents that can stand at an angle: the two parts are no longer than the whole, and longer than it together.
    const three = fc.record({
      resistorAmps: between(0.5, 5),
      loadAmps: between(0.5, 5),
      cosine: between(0.05, 0.95),
    });
    fc.assert(
      fc.property(three, factor, between(10, 100), ({ resistorAmps, loadAmps, cosine }, by, resistorOhms) => {
        const total = Math.sqrt(resistorAmps ** 2 + loadAmps ** 2 + 2 * resistorAmps * loadAmps * cosine);
        const watts = (k: number) =>
          accept('power-without-wattmeter', {
            method: 'three-ammeter',
            threeAmmeter: {
              totalAmps: known(total * k, 1),
              resistorAmps: known(resistorAmps * k, 1),
              loadAmps: known(loadAmps * k, 1),
              resistorOhms,
            },
          }).results.watts;
        close(watts(1).value, resistorAmps * resistorOhms * loadAmps * cosine);
        scaled(watts(by), watts(1), by ** 2);
      }),
      options,
    );
  });
});
