import { describe, expect, it } from 'vitest';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { accept } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

/** A no-load curve in closed form, whose steepness grows from 1 to 9. */
const amps = (volts: number) => 0.25 * (volts / 120) + 1.5 * (volts / 120) ** 9;

/** Where a function first passes a value, by halving. */
function crossing(f: (x: number) => number, value: number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let step = 0; step < 100; step += 1) {
    const middle = (low + high) / 2;
    if (f(middle) < value) low = middle;
    else high = middle;
  }
  return low;
}

const points = Array.from({ length: 22 }, (_, k) => 50 + 4 * k).map((volts) => ({ volts, amps: amps(volts) }));
const given = { primaryTurns: 120, points, supplyVolts: 120, addedTurns: [0], hertz: 60 };

describe('the knee of an excitation curve', () => {
  // IEC 60050-321:1986, 321-02-34; IEC 61869-2:2012, 3.4.215: 10 % more volts draw 50 % more exciting current.
  it('KN-01: is where the step of 10 % is 50 % of current, on the curve', () => {
    expect(checks['KN-01'].expected.criterion).toBe('I(1.1 U)/I(U) = 1.5 on the measured curve, by that step');
    const byStep = crossing((volts) => amps(1.1 * volts) / amps(volts), 1.5, 50, 120);
    const { knee } = accept('excitation', given).results;
    within(knee?.value, byStep, 0.003 * byStep);
    const at = (supplyVolts: number) =>
      accept('excitation', { ...given, supplyVolts }).results.predictions[0]?.amps.value;
    within((at(1.1 * (knee?.value ?? NaN)) ?? NaN) / (at(knee?.value ?? NaN) ?? NaN), 1.5, 1e-9);
  });

  it('KN-01: is not where the slope of the logarithms is ln 1.5 / ln 1.1, some 5 % higher on a real curve', () => {
    const slope = (volts: number) => Math.log(amps(volts * 1.0001) / amps(volts / 1.0001)) / Math.log(1.0001 ** 2);
    const bySlope = crossing(slope, Math.log(1.5) / Math.log(1.1), 50, 130);
    const { knee } = accept('excitation', given).results;
    within(bySlope / (knee?.value ?? NaN), 1.05, 0.01);
  });

  it('KN-01: has no place on a pure power law, flatter or steeper, and lies where one goes over into the other', () => {
    const law = (power: number) => points.map(({ volts }) => ({ volts, amps: (volts / 100) ** power }));
    const kneeOf = (power: number) => accept('excitation', { ...given, points: law(power) }).results.knee;
    expect(kneeOf(4.2)).toBeUndefined();
    expect(kneeOf(4.3)).toBeUndefined();
    const bent = points.map(({ volts }) => ({ volts, amps: (volts / 100) ** (volts < 92 ? 4.2 : 4.3) }));
    within(accept('excitation', { ...given, points: bent }).results.knee?.value, 90, 10);
  });
});
