import { Matrix, pseudoInverse, QrDecomposition } from 'ml-matrix';

/** Why a fit ended: at the least squares, in a place it cannot leave, or out of steps. */
export type Stopped = 'converged' | 'stuck' | 'step-limit';

export interface CurveFit {
  readonly parameters: readonly number[];
  /** What a unit of residual (as weighted) of each point moves each parameter by: parameters by points. */
  readonly sensitivities: readonly (readonly number[])[];
  /** Of the parameters, for residuals of variance 1: times the residual variance by the scatter. */
  readonly covariance: readonly (readonly number[])[];
  readonly residualSumOfSquares: number;
  readonly stopped: Stopped;
}

const mostSteps = 200;
const leastDamping = 1e-15;
const mostDamping = 1e12;
/** Against the size of the prediction: a step under the first is nothing, one over the second is not at rest. */
const restStep = 1e-12;
const stuckStep = 1e-7;
const relativeStep = 1e-5;

const squares = (values: readonly number[]) => values.reduce((sum, value) => sum + value * value, 0);

/** Change of each prediction per change of each parameter, by central differences: points by parameters. */
function slopesOf(residuals: (parameters: readonly number[]) => readonly number[], at: readonly number[]): Matrix {
  const columns = at.map((value, k) => {
    const h = relativeStep * (Math.abs(value) || 1);
    const [low, high] = [-h, h].map((step) => residuals(at.map((each, j) => (j === k ? each + step : each))));
    return (low ?? []).map((below, row) => (below - (high?.[row] ?? NaN)) / (2 * h));
  });
  return new Matrix(columns).transpose();
}

/** The columns divided by their lengths, and these lengths. */
function scaled(slopes: Matrix) {
  const lengths = slopes
    .to2DArray()
    .reduce<number[]>((sums, row) => row.map((value, k) => (sums[k] ?? 0) + value * value), []);
  const roots = lengths.map((length) => Math.sqrt(length) || 1);
  return { roots, design: new Matrix(slopes.to2DArray().map((row) => row.map((value, k) => value / (roots[k] ?? 1)))) };
}

function dampedStep(design: Matrix, residuals: readonly number[], damping: number): number[] {
  const rows = design.to2DArray();
  const floor = Matrix.eye(design.columns).mul(Math.sqrt(damping)).to2DArray();
  const right = [...residuals, ...floor.map(() => 0)];
  return new QrDecomposition(new Matrix([...rows, ...floor])).solve(Matrix.columnVector(right)).to1DArray();
}

/**
 * Least squares of a small nonlinear model (Levenberg and Marquardt; columns scaled to length 1). `residualsOf` gives
 * weight times (observed − predicted) of every point and must be smooth. Null where it is not finite at the start.
 */
export function fitCurve(
  residualsOf: (parameters: readonly number[]) => readonly number[],
  start: readonly number[],
): CurveFit | null {
  let parameters = start;
  let residuals = residualsOf(start);
  let stopped: Stopped = 'step-limit';
  let damping = 1e-3;
  if (!Number.isFinite(squares(residuals))) return null;
  for (let step = 0; step < mostSteps && stopped === 'step-limit'; step += 1) {
    const { roots, design } = scaled(slopesOf(residualsOf, parameters));
    if (!design.to1DArray().every(Number.isFinite)) return null;
    const size = Math.hypot(...parameters.map((value, k) => value * (roots[k] ?? 0)), Math.sqrt(squares(residuals)));
    for (;;) {
      const move = dampedStep(design, residuals, damping);
      const length = Math.sqrt(squares(move));
      if (length <= restStep * size) {
        stopped = 'converged';
        break;
      }
      const next = parameters.map((value, k) => value + (move[k] ?? 0) / (roots[k] ?? 1));
      const nextResiduals = residualsOf(next);
      if (squares(nextResiduals) < squares(residuals)) {
        parameters = next;
        residuals = nextResiduals;
        damping = Math.max(damping / 5, leastDamping);
        break;
      }
      // No better: rounding holds an undamped step that is small already, otherwise it goes more carefully.
      if (damping <= 1e-6 && length <= stuckStep * size) stopped = 'converged';
      else if (damping >= mostDamping) stopped = 'stuck';
      else damping *= 4;
      if (stopped !== 'step-limit') break;
    }
  }
  const { roots, design } = scaled(slopesOf(residualsOf, parameters));
  if (!design.to1DArray().every(Number.isFinite)) return null;
  const sensitivities = pseudoInverse(design)
    .to2DArray()
    .map((row, k) => row.map((value) => value / (roots[k] ?? 1)));
  const covariance = sensitivities.map((a) =>
    sensitivities.map((b) => a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0)),
  );
  return { parameters, sensitivities, covariance, residualSumOfSquares: squares(residuals), stopped };
}
