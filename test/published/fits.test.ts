import { describe, expect, it } from 'vitest';
import { fitCurve } from '../../src-shared/quantity/curve-fit.ts';
import { fitLine } from '../../src-shared/quantity/line-fit.ts';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { accept } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

const relative = (value: number | undefined, certified: number, tolerance: number) =>
  within(value, certified, tolerance * Math.abs(certified));
const pairs = (x: readonly number[], y: readonly number[]) => x.map((each, index) => ({ x: each, y: y[index] ?? NaN }));

// NIST Statistical Reference Datasets, Linear Regression: certified values.
describe('straight line on certified data', () => {
  it.each(['NIST-NOINT1', 'NIST-NOINT2'] as const)('%s: through the origin', (id) => {
    const { inputs, expected } = checks[id];
    const fit = fitLine(pairs(inputs.x, inputs.y), 'origin');
    expect(fit.intercept).toBe(0);
    relative(fit.slope, expected.B1, 1e-8);
    relative(Math.sqrt(fit.slopeVariance * fit.residualVariance), expected.sd_B1, 1e-6);
    relative(Math.sqrt(fit.residualVariance), expected.residual_sd, 1e-6);
    expect(fit.dof).toBe(expected.dof_res);
  });

  it('NIST-NORRIS: anywhere', () => {
    const { inputs, expected } = checks['NIST-NORRIS'];
    const fit = fitLine(pairs(inputs.x, inputs.y));
    relative(fit.intercept, expected.B0, 1e-8);
    relative(fit.slope, expected.B1, 1e-8);
    relative(Math.sqrt(fit.interceptVariance * fit.residualVariance), expected.sd_B0, 1e-6);
    relative(Math.sqrt(fit.slopeVariance * fit.residualVariance), expected.sd_B1, 1e-6);
    relative(fit.residualSumOfSquares, expected.SS_res, 1e-6);
    expect(fit.dof).toBe(expected.dof_res);
  });

  it('NIST-NORRIS turned over, as volts that fall under load', () => {
    const { inputs, expected } = checks['NIST-NORRIS'];
    const points = inputs.x.map((amps, index) => ({ amps, volts: 2000 - (inputs.y[index] ?? NaN) }));
    const { openCircuitVolts, outputResistance } = accept('loaded-run', { points }).results;
    relative(outputResistance.value, expected.B1, 1e-8);
    relative(openCircuitVolts.value, 2000 - expected.B0, 1e-10);
    relative(outputResistance.u ?? undefined, expected.sd_B1, 1e-6);
    relative(openCircuitVolts.u ?? undefined, expected.sd_B0, 1e-6);
  });

  // JCGM 100:2008 H.3: the correlation of intercept and slope of a thermometer's calibration is -0.930.
  it('GUM-H3 covariance of a calibration line', () => {
    const { inputs } = checks['GUM-H3'];
    const fit = fitLine(inputs.t_C.map((t, index) => ({ x: t - inputs.t0_C, y: inputs.b_C[index] ?? NaN })));
    within(fit.intercept, -0.1712, 0.00005);
    within(fit.slope, 0.00218, 0.000005);
    within(fit.covariance / Math.sqrt(fit.interceptVariance * fit.slopeVariance), -0.93, 0.0005);
    within(Math.sqrt(fit.residualVariance), 0.0035, 0.00005);
  });

  it('counts a point of weight 3 as three points', () => {
    const thrice = fitLine([
      { x: 1, y: 2, weight: 3 },
      { x: 2, y: 3 },
      { x: 4, y: 4 },
    ]);
    const three = fitLine([...Array.from({ length: 3 }, () => ({ x: 1, y: 2 })), { x: 2, y: 3 }, { x: 4, y: 4 }]);
    expect(thrice.slope).toBeCloseTo(three.slope, 14);
    expect(thrice.interceptVariance).toBeCloseTo(three.interceptVariance, 14);
    expect(thrice.covariance).toBeCloseTo(three.covariance, 14);
  });
});

// NIST Statistical Reference Datasets, Nonlinear Regression, Misra1a: certified values, from both starts.
describe('nonlinear fit on certified data', () => {
  const { inputs, expected } = checks['NIST-MISRA1A'];
  const residuals = ([b1 = NaN, b2 = NaN]: readonly number[]) =>
    inputs.x.map((x, index) => (inputs.y[index] ?? NaN) - b1 * (1 - Math.exp(-b2 * x)));

  it.each([inputs.start1, inputs.start2])('NIST-MISRA1A from %d, %d', (...start) => {
    const fit = fitCurve(residuals, start);
    const s2 = (fit?.residualSumOfSquares ?? NaN) / expected.dof;
    expect(fit?.stopped).toBe('converged');
    relative(fit?.parameters[0], expected.b1, 1e-8);
    relative(fit?.parameters[1], expected.b2, 1e-8);
    relative(Math.sqrt((fit?.covariance[0]?.[0] ?? NaN) * s2), expected.sd_b1, 1e-6);
    relative(Math.sqrt((fit?.covariance[1]?.[1] ?? NaN) * s2), expected.sd_b2, 1e-6);
    relative(fit?.residualSumOfSquares, expected.rss, 1e-8);
  });

  it('says so where the start is no number', () => {
    expect(fitCurve(residuals, [NaN, 1])).toBeNull();
  });
});
