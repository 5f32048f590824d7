import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { awgName } from '../../../../src-shared/quantity/awg.ts';
import { accept } from '../ask.ts';
import { close, factor, known, options, between, scaled } from './law.ts';

const metal = fc.constantFrom('copper', 'aluminium');
const diameter = between(0.05, 8);
const gauge = fc.integer({ min: -3, max: 56 });
const asGiven = (n: number) => (n > 0 ? n : awgName(n));
const wire = (given: object) => accept('wire', given).results;

describe('laws of wire', () => {
  it('comes back from the diameter to the gauge', () => {
    fc.assert(
      fc.property(gauge, (n) => {
        const { bareDiameter, nearestAwg } = wire({ awg: asGiven(n) });
        expect(nearestAwg).toBe(asGiven(n));
        expect(wire({ diameterMm: bareDiameter.value }).nearestAwg).toBe(asGiven(n));
      }),
      options,
    );
  });

  it('is the same wire by diameter, area or circular mils', () => {
    fc.assert(
      fc.property(diameter, between(0.1, 3), (diameterMm, percent) => {
        const one = wire({ diameterMm: known(diameterMm, percent) });
        const { area, circularMils } = one;
        const others = [
          wire({ areaMm2: { value: area.value, u: area.u } }),
          wire({ circularMils: { value: circularMils.value, u: circularMils.u } }),
        ];
        for (const other of others) {
          scaled(other.bareDiameter, one.bareDiameter, 1, 1e-3);
          close(other.ohmsPerKm.value, one.ohmsPerKm.value);
          close(other.kgPerKm.value, one.kgPerKm.value);
        }
      }),
      options,
    );
  });

  it('has the same resistance times mass at every size of a metal', () => {
    fc.assert(
      fc.property(diameter, diameter, metal, (a, b, of) => {
        const product = (diameterMm: number) => {
          const { ohmsPerKm, kgPerKm } = wire({ diameterMm, metal: of });
          return ohmsPerKm.value * kgPerKm.value;
        };
        close(product(a), product(b));
      }),
      options,
    );
  });

  it('halves its area every three gauges and a bit, and has a tenth after ten', () => {
    fc.assert(
      fc.property(fc.integer({ min: -3, max: 46 }), (n) => {
        const [thick, thin] = [wire({ awg: asGiven(n) }), wire({ awg: asGiven(n + 10) })];
        // 92^(20 / 39) = 10.16 (ASTM B258: 39 steps from 0.005 in to 0.46 in).
        close(thick.area.value / thin.area.value, 92 ** (20 / 39));
      }),
      options,
    );
  });

  it('has more resistance when it is warmer or thinner', () => {
    fc.assert(
      fc.property(diameter, between(-40, 150), between(0.1, 100), metal, (diameterMm, celsius, more, of) => {
        const ohms = (d: number, at: number) => wire({ diameterMm: d, celsius: at, metal: of }).ohmsPerKm.value;
        expect(ohms(diameterMm, celsius + more)).toBeGreaterThan(ohms(diameterMm, celsius));
        expect(ohms(diameterMm * 0.99, celsius)).toBeGreaterThan(ohms(diameterMm, celsius));
      }),
      options,
    );
  });

  it('tells its metal from its own resistance, whatever its length and size', () => {
    fc.assert(
      fc.property(
        diameter,
        between(50, 400),
        fc.integer({ min: 20, max: 500 }),
        between(0, 60),
        metal,
        (d, turn, turns, at, of) => {
          const { ohmsPerKm } = wire({ diameterMm: d, celsius: at, metal: of });
          const ohms = (ohmsPerKm.value * turn * turns) / 1e6;
          const given = {
            ohms: known(ohms, 1),
            celsius: at,
            turns,
            bareDiameterMm: known(d, 1),
            meanTurnMm: known(turn, 2),
          };
          expect(accept('winding-metal', given).results.metal).toBe(of);
        },
      ),
      options,
    );
  });

  it('goes with the square of its size', () => {
    fc.assert(
      fc.property(between(0.2, 3), factor, (diameterMm, by) => {
        const [one, other] = [
          wire({ diameterMm: known(diameterMm, 1) }),
          wire({ diameterMm: known(diameterMm * by, 1) }),
        ];
        scaled(other.area, one.area, by ** 2);
        scaled(other.kgPerKm, one.kgPerKm, by ** 2);
        scaled(other.ohmsPerKm, one.ohmsPerKm, by ** -2);
      }),
      options,
    );
  });
});
