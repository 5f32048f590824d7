import fc from 'fast-check';
import { diag, inv, matrix, multiply, transpose, type Matrix } from 'mathjs';
import { linearRegression, mean, sampleVariance, standardDeviation, sum } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { fitLine } from '../../src-shared/quantity/line-fit.ts';
import { accept } from '../shared/calculation/ask.ts';
import { close } from './close.ts';

const options = { seed: 20260603, numRuns: 60 };
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Points whose abscissae are apart, so that a line through them is well determined. */
const points = fc
  .array(fc.record({ step: between(0.5, 3), y: between(-50, 50), weight: between(0.1, 10) }), {
    minLength: 3,
    maxLength: 30,
  })
  .map((steps) =>
    steps.map(({ y, weight }, index) => ({ x: sum(steps.slice(0, index + 1).map(({ step }) => step)), y, weight })),
  );
const plain = (all: readonly { readonly x: number; readonly y: number }[]) => all.map(({ x, y }) => ({ x, y }));
const pairs = (all: readonly { readonly x: number; readonly y: number }[]) => all.map(({ x, y }) => [x, y]);

/** Standard errors by the textbook from sample statistics alone. */
function errorsOf(all: readonly { readonly x: number; readonly y: number }[]) {
  const { m, b } = linearRegression(pairs(all));
  const s = Math.sqrt(sum(all.map(({ x, y }) => (y - b - m * x) ** 2)) / (all.length - 2));
  const x = all.map((each) => each.x);
  const spread = sampleVariance(x) * (all.length - 1);
  return { slope: s / Math.sqrt(spread), start: s * Math.sqrt(1 / all.length + mean(x) ** 2 / spread) };
}

describe('straight lines, as simple-statistics has them', () => {
  it('have the same start and slope', () => {
    fc.assert(
      fc.property(points, (all) => {
        const { m, b } = linearRegression(pairs(all));
        const fit = fitLine(plain(all));
        expect(Math.abs(fit.slope - m)).toBeLessThan(1e-9);
        expect(Math.abs(fit.intercept - b)).toBeLessThan(1e-8);
      }),
      options,
    );
  });

  it('have the same errors of start and slope', () => {
    fc.assert(
      fc.property(points, (all) => {
        const fit = fitLine(plain(all));
        const errors = errorsOf(all);
        close(Math.sqrt(fit.slopeVariance * fit.residualVariance), errors.slope, 1e-8);
        close(Math.sqrt(fit.interceptVariance * fit.residualVariance), errors.start, 1e-8);
      }),
      options,
    );
  });

  it('have the same covariance as the weighted normal equations, solved as matrices', () => {
    fc.assert(
      fc.property(points, (all) => {
        const design = matrix(all.map(({ x }) => [1, x]));
        const weights = diag(all.map(({ weight }) => weight));
        const half = multiply(transpose(design), weights);
        const covariance = inv(multiply(half, design));
        const solved = multiply(covariance, multiply(half, matrix(all.map(({ y }) => [y]))));
        const fit = fitLine(all);
        const at = (from: Matrix, row: number, column: number) => Number(from.get([row, column]));
        close(fit.interceptVariance, at(covariance, 0, 0), 1e-7);
        close(fit.slopeVariance, at(covariance, 1, 1), 1e-7);
        close(fit.covariance, at(covariance, 0, 1), 1e-7);
        expect(Math.abs(fit.intercept - at(solved, 0, 0))).toBeLessThan(1e-7);
        expect(Math.abs(fit.slope - at(solved, 1, 0))).toBeLessThan(1e-7);
      }),
      options,
    );
  });
});

describe('calculations on straight lines', () => {
  it('give the output of a loaded run', () => {
    fc.assert(
      fc.property(
        fc.array(between(-0.2, 0.2), { minLength: 3, maxLength: 12 }),
        between(40, 90),
        between(0.01, 0.2),
        (off, open, ohms) => {
          const given = off.map((each, index) => ({
            amps: 5 * index,
            volts: open - ohms * 5 * index + 0.5 * (-1) ** index + each,
          }));
          const asPairs = given.map(({ amps, volts }) => ({ x: amps, y: volts }));
          const { m, b } = linearRegression(pairs(asPairs));
          const errors = errorsOf(asPairs);
          const { results } = accept('loaded-run', { points: given });
          close(results.openCircuitVolts.value, b);
          expect(Math.abs(results.outputResistance.value + m)).toBeLessThan(1e-10);
          close(results.outputResistance.u, errors.slope, 1e-6);
          close(results.openCircuitVolts.u, errors.start, 1e-6);
          expect(results.outputResistance.dof ?? Infinity).toBeCloseTo(off.length - 2, 6);
          const spread = standardDeviation([...results.residuals]);
          close(spread, Math.sqrt(sum(given.map(({ amps, volts }) => (volts - b - m * amps) ** 2)) / off.length), 1e-6);
        },
      ),
      options,
    );
  });

  it('give both parts of the iron loss', () => {
    fc.assert(
      fc.property(between(0.1, 2), between(0.001, 0.05), between(0, 0.01), (hysteresis, eddy, off) => {
        const given = [30, 40, 50, 60, 70].map((hertz, index) => ({
          hertz,
          watts: (hysteresis + eddy * hertz) * hertz * (1 + off * (-1) ** index),
        }));
        const { m, b } = linearRegression(given.map(({ hertz, watts }) => [hertz, watts / hertz]));
        const { results } = accept('iron-loss-split', { points: given });
        close(results.wattsPerHertz.value, b);
        close(results.wattsPerHertzSquared.value, m);
      }),
      options,
    );
  });
});
