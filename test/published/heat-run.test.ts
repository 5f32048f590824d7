import { describe, expect, it } from 'vitest';
import { classCelsius } from '../../src-shared/calculation/insulation-class.ts';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { accept } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

const hour = 3600;

describe('heat runs, against published values', () => {
  // IEC 60085:2007, Table 1.
  it('TH-01 temperatures of the thermal classes', () => {
    const { '-': above, ...lettered } = checks['TH-01'].expected;
    expect(above).toBe(250);
    expect(classCelsius).toEqual(lettered);
  });

  // Theraja, A Textbook of Electrical Technology, vol. III, Ex. 45.15 p. 1809: rises of 15 and 25 K after 1 and 2 h.
  it('HR-02 Theraja, Ex. 45.15', () => {
    const points = [
      { seconds: hour, celsius: 15 },
      { seconds: 2 * hour, celsius: 25 },
    ];
    const { finalCelsius, timeConstant } = accept('heat-run', { points, startCelsius: 0 }).results;
    within(finalCelsius.value, 45, 1e-6);
    within(timeConstant.value / hour, 2.47, 0.005);
    // At 50 % overload the steady rise is 90 K: after 1 h it is 30 K.
    within(90 * (1 - Math.exp(-hour / timeConstant.value)), 30, 1e-6);
  });

  // Theraja, vol. III, Ex. 45.14 p. 1809: from a rise of 20 to 85 K with 2.4 h, after 1.2 h at 25 °C ambient: 70.58 °C.
  it('HR-03 Theraja, Ex. 45.14', () => {
    const points = [0.5, 1, 2, 3, 5, 8].map((hours) => ({
      seconds: hours * hour,
      celsius: 25 + 85 - 65 * Math.exp(-hours / 2.4),
    }));
    const input = { points, startCelsius: 45, ambientCelsius: 25, limitCelsius: 70.58 };
    const { secondsToLimit, finalRise } = accept('heat-run', input).results;
    within((secondsToLimit?.value ?? NaN) / hour, 1.2, 0.001);
    within(finalRise?.value, 85, 1e-6);
  });

  // Theraja, vol. III, Ex. 45.12 p. 1808: 30 and 40 K after 1 and 2 h; 50 K after 1 h allows 25.82 kW for 20 kW.
  it('HR-07 Theraja, Ex. 45.12', () => {
    const points = [
      { seconds: hour, celsius: 30 },
      { seconds: 2 * hour, celsius: 40 },
    ];
    const { finalCelsius, timeConstant } = accept('heat-run', { points, startCelsius: 0 }).results;
    const finalForFifty = 50 / (1 - Math.exp(-hour / timeConstant.value));
    within(20 * Math.sqrt(finalForFifty / finalCelsius.value), 25.82, 0.01);
  });

  // NIST Statistical Reference Datasets, Nonlinear Regression, Misra1a: y = b1 (1 - exp(-b2 x)).
  it('NIST-MISRA1A as a heat run from 0', () => {
    const { inputs, expected } = checks['NIST-MISRA1A'];
    const points = inputs.x.map((seconds, index) => ({ seconds, celsius: inputs.y[index] ?? NaN }));
    const { results } = accept('heat-run', { points, startCelsius: 0 });
    within(results.finalCelsius.value, expected.b1, 1e-6 * expected.b1);
    within(1 / results.timeConstant.value, expected.b2, 1e-6 * expected.b2);
    within(results.finalCelsius.u, expected.sd_b1, 1e-5 * expected.sd_b1);
    within((results.timeConstant.u ?? NaN) / results.timeConstant.value ** 2, expected.sd_b2, 1e-5 * expected.sd_b2);
    within(results.residualSumOfSquares, expected.rss, 1e-8 * expected.rss);
    expect(results.finalCelsius.dof).toBeCloseTo(expected.dof, 6);
  });
});
