import fc from 'fast-check';
import { abs, add, complex, conj, divide, multiply, subtract, type Complex } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { accept } from '../shared/calculation/ask.ts';
import { close } from './close.ts';

const options = { seed: 20260602, numRuns: 60 };
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const times = (a: Complex | number, b: Complex | number) => complex(multiply(a, b) as Complex);
const over = (a: Complex | number, b: Complex | number) => complex(divide(a, b) as Complex);
const plus = (a: Complex | number, b: Complex | number) => complex(add(a, b));
const minus = (a: Complex | number, b: Complex | number) => complex(subtract(a, b));
const parallel = (a: Complex | number, b: Complex | number) => over(times(a, b), plus(a, b));
const size = (a: Complex) => Number(abs(a));
/** Power that a current takes from volts. */
const power = (volts: Complex | number, amps: Complex) => times(volts, complex(conj(amps))).re;

/** What a wattmeter, an ammeter and a voltmeter read on an impedance. */
function read(volts: number, impedance: Complex) {
  const amps = over(volts, impedance);
  return { volts, amps: size(amps), watts: power(volts, amps) };
}

const transformer = fc.record({
  volts: between(20, 250),
  ratio: between(1.2, 20),
  winding: between(0.05, 1),
  iron: between(100, 2000),
  magnetising: between(30, 400),
  resistance: between(0.1, 3),
  reactance: between(0.1, 3),
});

describe('the equivalent circuit, as complex impedances have it', () => {
  it('comes back from what the two tests would read, on either side', () => {
    fc.assert(
      fc.property(transformer, ({ volts, ratio, iron, magnetising, resistance, reactance }) => {
        // The open test on the low side, the short one on the high side: the usual way.
        const openCircuit = { ...read(volts, parallel(iron, complex(0, magnetising))), side: 'low' };
        const shortCircuit = { ...read(volts / 20, complex(resistance, reactance)), side: 'high' };
        const at = (referTo: 'high' | 'low') =>
          accept('equivalent-circuit', { openCircuit, shortCircuit, turnsRatio: ratio, referTo }).results;
        const [high, low] = [at('high'), at('low')];
        close(low.coreLossResistance.value, iron);
        close(low.magnetisingReactance.value, magnetising);
        close(high.equivalentResistance.value, resistance);
        close(high.equivalentReactance.value, reactance, 1e-7);
        close(high.equivalentImpedance.value, size(complex(resistance, reactance)));
        const referred = times(complex(resistance, reactance), 1 / ratio ** 2);
        close(low.equivalentResistance.value, referred.re);
        close(low.equivalentReactance.value, referred.im, 1e-7);
      }),
      options,
    );
  });

  it('takes the winding off the open test', () => {
    fc.assert(
      fc.property(transformer, ({ volts, winding, iron, magnetising }) => {
        const branch = parallel(iron, complex(0, magnetising));
        const openCircuit = { ...read(volts, plus(winding, branch)), side: 'low', windingOhms: winding };
        const shortCircuit = { volts: 5, amps: 5, watts: 10, side: 'low' };
        const given = { openCircuit, shortCircuit, turnsRatio: 2, referTo: 'low' };
        const { coreLossResistance, magnetisingReactance } = accept('equivalent-circuit', given).results;
        close(coreLossResistance.value, iron, 1e-7);
        close(magnetisingReactance.value, magnetising, 1e-7);
      }),
      options,
    );
  });
});

describe('no load, as complex currents have it', () => {
  it('splits the current behind the resistance of the winding', () => {
    fc.assert(
      fc.property(transformer, ({ volts, winding, iron, magnetising }) => {
        const branch = parallel(iron, complex(0, magnetising));
        const total = plus(winding, branch);
        const current = over(volts, total);
        const emf = minus(volts, times(current, winding));
        const { results } = accept('no-load', { ...read(volts, total), primaryOhms: winding });
        close(results.coreLossCurrent?.value, size(over(emf, iron)), 1e-7);
        close(results.magnetisingCurrent?.value, size(over(emf, complex(0, magnetising))), 1e-7);
        close(results.coreLoss?.value, size(emf) ** 2 / iron, 1e-7);
        close(results.copperLoss?.value, size(current) ** 2 * winding);
        close(results.powerFactor?.value, power(volts, current) / volts / size(current));
      }),
      options,
    );
  });

  it('corrects a test coil for the drop in the primary', () => {
    fc.assert(
      fc.property(transformer, between(0.05, 2), ({ volts, winding, iron, magnetising }, leakage) => {
        const current = over(volts, plus(complex(winding, leakage), parallel(iron, complex(0, magnetising))));
        const emf = size(minus(volts, times(current, complex(winding, leakage))));
        const { primaryTurns } = accept('test-coil', {
          readings: [{ coilTurns: 10, coilVolts: (10 / 120) * emf, primaryVolts: volts }],
          noLoadAmps: size(current),
          noLoadWatts: power(volts, current),
          primaryOhms: winding,
          primaryReactanceOhms: leakage,
        }).results;
        close(primaryTurns.value, 120, 1e-7);
      }),
      options,
    );
  });
});

describe('short circuit and secondary, as phasors have them', () => {
  it('comes back from what a short would read', () => {
    fc.assert(
      fc.property(between(0.05, 3), between(0.05, 3), between(1, 30), (resistance, reactance, volts) => {
        const impedance = complex(resistance, reactance);
        const { results } = accept('short-circuit', read(volts, impedance));
        close(results.impedance.value, size(impedance));
        close(results.resistance?.value, resistance);
        close(results.reactance?.value, reactance, 1e-7);
        close(results.powerFactor?.value, resistance / size(impedance));
      }),
      options,
    );
  });

  const wanted = fc.record({
    loadVolts: between(12, 40),
    loadAmps: between(2, 15),
    powerFactor: between(0.3, 1),
    sense: fc.constantFrom('lagging', 'leading'),
    primaryOhms: between(0.2, 2),
    leakageOhms: between(0.2, 4),
  });

  it('has the no-load volts that the loaded ones and the drop of both windings make up', () => {
    let compared = 0;
    fc.assert(
      fc.property(wanted, (given) => {
        const { results } = accept('secondary', {
          ...given,
          primaryTurns: 236,
          primaryVolts: 230,
          primaryMetal: 'copper',
          windowWidthMm: 30,
          windowHeightMm: 60,
          meanTurnMm: 250,
          tongueMm: 45,
          stackMm: 70,
        });
        const angle = Math.acos(given.powerFactor) * (given.sense === 'lagging' ? -1 : 1);
        const current = complex({ r: given.loadAmps, phi: angle });
        for (const { turns, copperLoss, noLoadVolts, loadedVolts } of results.choices) {
          const reactance = given.leakageOhms * (turns / 236) ** 2;
          const impedance = complex(copperLoss.value / given.loadAmps ** 2, reactance);
          close(size(plus(loadedVolts.value, times(current, impedance))), noLoadVolts.value, 1e-7);
          close(noLoadVolts.value, (230 * turns) / 236);
          compared += 1;
        }
      }),
      { ...options, numRuns: 10 },
    );
    expect(compared).toBeGreaterThan(20);
  });
});

describe('a bank, as phasors have it', () => {
  const unit = fc.record({
    openVolts: between(20, 28),
    ohms: between(0.01, 0.1),
    reactance: between(0.001, 0.1),
    // Whole tenths, none so near to 0 that nobody could have set it.
    phaseDegrees: fc.integer({ min: -50, max: 50 }).map((tenths) => tenths / 10),
  });
  const units = fc.array(unit, { minLength: 2, maxLength: 5 });
  type Unit = typeof unit extends fc.Arbitrary<infer U> ? U : never;

  const volts = ({ openVolts, phaseDegrees }: Unit) => complex({ r: openVolts, phi: (phaseDegrees * Math.PI) / 180 });
  const impedance = ({ ohms, reactance }: Unit) => complex(ohms, reactance);
  const sum = (all: readonly Complex[]) => all.reduce((total, each) => plus(total, each), complex(0, 0));
  const rated = (all: readonly Unit[]) => all.map((each) => ({ ...each, ratedAmps: 1000 }));

  it('adds volts up in series', () => {
    fc.assert(
      fc.property(units, (all) => {
        const { results } = accept('bank', { units: rated(all), join: 'series' });
        close(results.openVolts.value, size(sum(all.map(volts))));
        close(results.limitAmps.value, 1000);
      }),
      options,
    );
  });

  it('keeps every unit at one terminal in parallel, with currents that add up to the load', () => {
    fc.assert(
      fc.property(
        units,
        between(1, 40),
        between(0.3, 1),
        fc.constantFrom('lagging', 'leading'),
        (all, amps, cosine, sense) => {
          const { results } = accept('bank', {
            units: rated(all),
            join: 'parallel',
            loadAmps: amps,
            powerFactor: cosine,
            sense,
          });
          // The load as an impedance of the size and the angle that it was found with: solved anew by nodal analysis.
          const angle = Math.acos(cosine) * (sense === 'lagging' ? 1 : -1);
          const load = complex({ r: (results.loadVolts?.value ?? NaN) / amps, phi: angle });
          const admittances = all.map((each) => over(1, impedance(each)));
          const shorted = sum(all.map((each) => over(volts(each), impedance(each))));
          const terminal = over(shorted, plus(sum(admittances), over(1, load)));
          close(size(terminal), results.loadVolts?.value, 1e-7);
          for (const [index, each] of all.entries()) {
            close(results.sharing[index]?.amps.value, size(over(minus(volts(each), terminal), impedance(each))), 1e-6);
          }
          const open = over(shorted, sum(admittances));
          close(results.openVolts.value, size(open));
          const idle = all.map((each) => size(over(minus(volts(each), open), impedance(each))));
          expect(Math.abs((results.circulatingAmps?.value ?? NaN) - Math.max(...idle))).toBeLessThan(1e-6);
        },
      ),
      options,
    );
  });

  it('reaches the rated current of a unit, and of no other, at the limit', () => {
    fc.assert(
      fc.property(units, between(150, 400), (all, ratedAmps) => {
        const given = { units: all.map((each) => ({ ...each, ratedAmps })), join: 'parallel' };
        const { limitAmps } = accept('bank', given).results;
        if (limitAmps.value === 0) return;
        const { sharing } = accept('bank', { ...given, loadAmps: limitAmps.value * (1 - 1e-9) }).results;
        expect(Math.max(...sharing.map(({ amps }) => amps.value))).toBeLessThanOrEqual(ratedAmps * (1 + 1e-6));
      }),
      options,
    );
  });
});

const load = fc.record({
  ratedVolts: between(5, 250),
  amps: between(0.1, 30),
  powerFactor: between(0.05, 1),
  sense: fc.constantFrom('lagging', 'leading'),
  equivalentResistance: between(0.001, 0.5),
  equivalentReactance: between(1e-6, 0.5),
  coreLossWatts: between(1, 100),
});

describe('load performance, as phasors have it', () => {
  it('has the volts and the power that the source must give', () => {
    fc.assert(
      fc.property(load, (given) => {
        const { ratedVolts, amps, powerFactor, sense, equivalentResistance, equivalentReactance } = given;
        const angle = Math.acos(powerFactor) * (sense === 'lagging' ? -1 : 1);
        const current = complex({ r: amps, phi: angle });
        const sourceVolts = plus(ratedVolts, times(current, complex(equivalentResistance, equivalentReactance)));
        const { results } = accept('load-performance', given);
        close(results.sourceVolts.value, size(sourceVolts));
        const input = power(sourceVolts, current);
        close(results.copperLoss.value, input - power(ratedVolts, current), 1e-7);
        const output = power(ratedVolts, current);
        close(results.efficiencyPercent?.value, (100 * output) / (input + given.coreLossWatts), 1e-7);
        const rise = (100 * (size(sourceVolts) - ratedVolts)) / size(sourceVolts);
        expect(Math.abs(results.regulationPercent.value - rise)).toBeLessThan(1e-9);
      }),
      options,
    );
  });
});

describe('power without a wattmeter, as phasors have it', () => {
  const branches = fc.record({
    volts: between(5, 250),
    r: between(1, 50),
    x: between(1, 50),
    ohms: between(5, 80),
  });

  it('is what the impedance takes, by three ammeters and by three voltmeters', () => {
    fc.assert(
      fc.property(branches, ({ volts, r, x, ohms }) => {
        const impedance = complex(r, x);
        const beside = over(volts, impedance);
        const ammeters = accept('power-without-wattmeter', {
          method: 'three-ammeter',
          threeAmmeter: {
            totalAmps: size(plus(beside, volts / ohms)),
            resistorAmps: volts / ohms,
            loadAmps: size(beside),
            resistorOhms: ohms,
          },
        });
        close(ammeters.results.watts.value, power(volts, beside), 1e-6);
        const through = over(volts, plus(impedance, ohms));
        const voltmeters = accept('power-without-wattmeter', {
          method: 'three-voltmeter',
          threeVoltmeter: {
            supplyVolts: volts,
            resistorVolts: size(through) * ohms,
            loadVolts: size(times(through, impedance)),
            resistorOhms: ohms,
          },
        });
        close(voltmeters.results.watts.value, size(through) ** 2 * r, 1e-6);
      }),
      options,
    );
  });
});
