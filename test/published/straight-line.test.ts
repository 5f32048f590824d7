import { Matrix, QrDecomposition } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { within } from './within.ts';

/** Linear least squares as the fits do it: columns scaled to length 1, then QR. */
function leastSquares(columns: readonly (readonly number[])[], y: readonly number[]) {
  const lengths = columns.map((column) => Math.hypot(...column));
  const design = new Matrix(y.map((_, row) => columns.map((column, k) => (column[row] ?? NaN) / (lengths[k] ?? NaN))));
  const scaled = new QrDecomposition(design).solve(Matrix.columnVector([...y]));
  const predicted = design.mmul(scaled).to1DArray();
  const rss = y.reduce((sum, value, row) => sum + (value - (predicted[row] ?? NaN)) ** 2, 0);
  const dof = y.length - columns.length;
  const inverse = new QrDecomposition(design.transpose().mmul(design)).solve(Matrix.eye(columns.length));
  return {
    b: scaled.to1DArray().map((value, k) => value / (lengths[k] ?? NaN)),
    sd: lengths.map((length, k) => Math.sqrt((rss / dof) * inverse.get(k, k)) / length),
    rss,
    residualSd: Math.sqrt(rss / dof),
    dof,
  };
}

const relative = (value: number | undefined, certified: number, tolerance: number) =>
  within(value, certified, tolerance * Math.abs(certified));

// NIST Statistical Reference Datasets, Linear Regression: the certified answers that ml-matrix must reach.
describe('linear least squares on certified data', () => {
  it.each(['NIST-NOINT1', 'NIST-NOINT2'] as const)('%s: a line through the origin', (id) => {
    const { inputs, expected } = checks[id];
    const fit = leastSquares([inputs.x], inputs.y);
    relative(fit.b[0], expected.B1, 1e-12);
    relative(fit.sd[0], expected.sd_B1, 1e-11);
    relative(fit.residualSd, expected.residual_sd, 1e-11);
    relative(fit.rss, expected.SS_res, 1e-11);
    expect(fit.dof).toBe(expected.dof_res);
  });

  it('NIST-NORRIS: a straight line', () => {
    const { inputs, expected } = checks['NIST-NORRIS'];
    const fit = leastSquares([inputs.x.map(() => 1), inputs.x], inputs.y);
    relative(fit.b[0], expected.B0, 1e-10);
    relative(fit.b[1], expected.B1, 1e-10);
    relative(fit.sd[0], expected.sd_B0, 1e-10);
    relative(fit.sd[1], expected.sd_B1, 1e-10);
    relative(fit.rss, expected.SS_res, 1e-10);
  });

  it('NIST-PONTIUS: an ill-conditioned parabola', () => {
    const { inputs, expected } = checks['NIST-PONTIUS'];
    // 20 loads, 150 000 to 3 000 000, the series repeated once.
    const x = inputs.y.map((_, index) => 150_000 * ((index % 20) + 1));
    const fit = leastSquares([x.map(() => 1), x, x.map((each) => each ** 2)], inputs.y);
    relative(fit.b[0], expected.B0, 1e-6);
    relative(fit.b[1], expected.B1, 1e-6);
    relative(fit.b[2], expected.B2, 1e-6);
    relative(fit.sd[0], expected.sd_B0, 1e-6);
    relative(fit.rss, expected.SS_res, 1e-6);
  });
});
