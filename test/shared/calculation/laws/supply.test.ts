import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept } from '../ask.ts';
import { close, factor, known, options, between, scaled } from './law.ts';

describe('laws of rectifiers', () => {
  const wanted = fc.record({
    dcVolts: between(5, 60),
    dcAmps: between(0.5, 40),
    diodeVolts: between(0.3, 1.2),
    circuit: fc.constantFrom('bridge', 'centre-tap'),
    filter: fc.constantFrom('capacitor', 'choke', 'none'),
  });
  const ask = (given: object) => accept('rectifier', given).results;

  it('needs more volts for more volts, and as many times the amps for so many times the amps', () => {
    fc.assert(
      fc.property(wanted, factor, (given, by) => {
        const one = ask(given);
        expect(ask({ ...given, dcVolts: given.dcVolts * 1.01 }).secondaryVolts.value).toBeGreaterThan(
          one.secondaryVolts.value,
        );
        const other = ask({ ...given, dcAmps: given.dcAmps * by });
        close(other.secondaryVolts.value, one.secondaryVolts.value);
        close(other.secondaryAmps.to.value, by * one.secondaryAmps.to.value);
        close(other.va.to.value, by * one.va.to.value);
        expect(one.secondaryAmps.from.value).toBeLessThanOrEqual(one.secondaryAmps.to.value);
      }),
      options,
    );
  });

  it('never takes fewer volt-amperes than the direct power', () => {
    fc.assert(
      fc.property(wanted, (given) => {
        // With a capacitor the volts asked for are the peak, and the direct power is at most that.
        expect(ask(given).va.from.value).toBeGreaterThanOrEqual(given.dcVolts * given.dcAmps * (1 - 1e-9));
      }),
      options,
    );
  });

  it('spares a centre tap one diode, and asks it for 1.41 times the copper', () => {
    fc.assert(
      fc.property(wanted, (given) => {
        const [bridge, tap] = [ask({ ...given, circuit: 'bridge' }), ask({ ...given, circuit: 'centre-tap' })];
        expect(tap.secondaryVolts.value).toBeLessThan(bridge.secondaryVolts.value);
        close(tap.secondaryAmps.to.value, bridge.secondaryAmps.to.value / Math.SQRT2);
      }),
      options,
    );
  });
});

describe('laws of the supply', () => {
  it('adds up the loads in whatever order, and leaves less for more', () => {
    fc.assert(
      fc.property(fc.array(between(10, 500), { minLength: 1, maxLength: 6 }), between(10, 500), (loads, more) => {
        const ask = (all: readonly number[]) =>
          accept('supply-circuit', {
            volts: 120,
            breakerAmps: 15,
            continuous: false,
            loads: all.map((voltAmperes) => ({ voltAmperes: known(voltAmperes, 2) })),
            unitVoltAmperes: 200,
          }).results;
        scaled(ask([...loads].reverse()).loadFraction, ask(loads).loadFraction, 1);
        expect(ask([...loads, more]).loadFraction.value).toBeGreaterThan(ask(loads).loadFraction.value);
        expect(ask([...loads, more]).unitsThatFit).toBeLessThanOrEqual(ask(loads).unitsThatFit ?? NaN);
      }),
      options,
    );
  });

  it('bounds the surge by the volts over all the ohms', () => {
    fc.assert(
      fc.property(between(100, 250), between(0.1, 2), between(0.1, 3), factor, (volts, supplyOhms, primaryOhms, by) => {
        const ask = (v: number, house: number, winding: number) =>
          accept('inrush-and-fuse', {
            volts: v,
            supplyOhms: house,
            primaryOhms: winding,
            ratedAmps: 5,
            rule: 'common-practice',
          }).results.inrushBound.value;
        const one = ask(volts, supplyOhms, primaryOhms);
        close(ask(volts * by, supplyOhms * by, primaryOhms * by), one);
        expect(ask(volts, supplyOhms * 1.1, primaryOhms)).toBeLessThan(one);
      }),
      options,
    );
  });
});

describe('laws of a loaded run', () => {
  const points = fc
    .record({
      open: between(10, 60),
      ohms: between(0.005, 0.1),
      off: fc.array(between(-0.05, 0.05), { minLength: 3, maxLength: 10 }),
    })
    .map(({ open, ohms, off }) =>
      off.map((each, index) => ({
        amps: known(4 * index + 1, 0.5),
        volts: known(open - ohms * (4 * index + 1) + each, 0.1),
        primaryVolts: known(120 - 0.2 * index, 0.1),
      })),
    );
  type Points = typeof points extends fc.Arbitrary<infer P> ? P : never;
  const ask = (given: Points, referenceVolts = 120) => accept('loaded-run', { points: given, referenceVolts }).results;

  it('does not care in which order the points come', () => {
    fc.assert(
      fc.property(points, (given) => {
        const [forth, back] = [ask(given), ask([...given].reverse())];
        scaled(back.openCircuitVolts, forth.openCircuitVolts, 1);
        scaled(back.outputResistance, forth.outputResistance, 1);
        scaled(back.regulationPercent, forth.regulationPercent, 1);
        expect(back.residuals).toHaveLength(forth.residuals.length);
      }),
      options,
    );
  });

  it('goes with the primary volts that it is referred to', () => {
    fc.assert(
      fc.property(points, between(90, 260), (given, reference) => {
        const [one, other] = [ask(given), ask(given, reference)];
        scaled(other.openCircuitVolts, one.openCircuitVolts, reference / 120);
        scaled(other.outputResistance, one.outputResistance, reference / 120);
        scaled(other.regulationPercent, one.regulationPercent, 1);
      }),
      options,
    );
  });

  it('has residuals that add up to nothing', () => {
    fc.assert(
      fc.property(points, (given) => {
        expect(Math.abs(ask(given).residuals.reduce((sum, each) => sum + each, 0))).toBeLessThan(1e-9);
      }),
      options,
    );
  });
});

describe('laws of iron loss', () => {
  it('splits the same in whatever order, and its parts add up to the line', () => {
    fc.assert(
      fc.property(between(0.1, 2), between(0.001, 0.05), factor, (hysteresis, eddy, by) => {
        const given = (k: number) =>
          [30, 40, 50, 60].map((hertz) => ({ hertz, watts: known(k * (hysteresis + eddy * hertz) * hertz, 0.5) }));
        const ask = (points: object) => accept('iron-loss-split', { points, atHertz: 55 }).results;
        const one = ask(given(1));
        scaled(ask([...given(1)].reverse()).wattsPerHertz, one.wattsPerHertz, 1);
        scaled(ask(given(by)).wattsPerHertzSquared, one.wattsPerHertzSquared, by);
        const sum = (one.hysteresisAtHertz?.value ?? NaN) + (one.eddyAtHertz?.value ?? NaN);
        close(sum, (hysteresis + eddy * 55) * 55);
      }),
      options,
    );
  });
});

describe('laws of a comparison', () => {
  const quantity = fc.record({
    before: between(1, 100),
    after: between(1, 100),
    u: between(0.1, 20),
    gain: between(0, 0.05),
  });
  type Quantity = typeof quantity extends fc.Arbitrary<infer Q> ? Q : never;
  const side = (value: number, { u, gain }: Quantity) => ({
    results: [{ quantity: 'x', unit: 'A', value: { value, u, shared: { id: 'meter', u: gain * value } } }],
  });
  const ask = (before: object, after: object) => {
    const [found] = accept('compare', { before, after }).results.quantities;
    if (found === undefined) throw new Error('There is nothing compared.');
    return found;
  };

  it('says the same of a change and of its way back', () => {
    fc.assert(
      fc.property(quantity, (given) => {
        const [forth, back] = [
          ask(side(given.before, given), side(given.after, given)),
          ask(side(given.after, given), side(given.before, given)),
        ];
        expect(back.verdict).toBe(forth.verdict);
        scaled(back.difference, forth.difference, -1);
      }),
      options,
    );
  });

  it('calls nothing changed that did not, and everything that differs by far more than it is known to', () => {
    fc.assert(
      fc.property(quantity, (given) => {
        expect(ask(side(given.before, given), side(given.before, given)).verdict).toBe('no-visible-change');
        const far = given.before + 10 * given.u;
        const near = { ...given, gain: 0 };
        expect(ask(side(given.before, near), side(far, near)).verdict).toBe('changed');
      }),
      options,
    );
  });

  it('does not change its mind with the unit', () => {
    fc.assert(
      fc.property(quantity, factor, (given, by) => {
        const scaledSide = (value: number) => side(value * by, { ...given, u: given.u * by });
        const [one, other] = [
          ask(side(given.before, given), side(given.after, given)),
          ask(scaledSide(given.before), scaledSide(given.after)),
        ];
        expect(other.verdict).toBe(one.verdict);
        scaled(other.difference, one.difference, by);
      }),
      options,
    );
  });

  it('needs a larger change where the meters are worse', () => {
    fc.assert(
      fc.property(quantity, between(1.01, 5), (given, worse) => {
        const least = (k: number) => {
          const readings = { ...given, u: given.u * k };
          return ask(side(given.before, readings), side(given.after, readings)).leastVisible ?? NaN;
        };
        expect(least(worse)).toBeGreaterThan(least(1));
      }),
      options,
    );
  });
});
