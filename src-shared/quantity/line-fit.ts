/** A point to lay a line through; `weight` is 1 over the variance of `y`, 1 where it is left out. */
export interface LinePoint {
  readonly x: number;
  readonly y: number;
  readonly weight?: number;
}

/** A straight line by weighted least squares, with what the scatter of the points round it tells. */
export interface LineFit {
  /** Exactly 0 for a line through the origin. */
  readonly intercept: number;
  readonly slope: number;
  /** Variances and covariance for points whose variance is 1 over their weight: times `residualVariance` by the scatter. */
  readonly interceptVariance: number;
  readonly slopeVariance: number;
  readonly covariance: number;
  /** Weighted sum of squares of the residuals, and the same over its degrees of freedom; 0 where none are left. */
  readonly residualSumOfSquares: number;
  readonly residualVariance: number;
  readonly dof: number;
}

/**
 * The line through `points` (Montgomery, Peck and Vining, Introduction to Linear Regression Analysis, ch. 2; about the mean
 * of x, so that nothing is lost to rounding). Not finite where all x are equal: ask before.
 */
export function fitLine(points: readonly LinePoint[], through: 'anywhere' | 'origin' = 'anywhere'): LineFit {
  const sum = (of: (x: number, y: number) => number) =>
    points.reduce((total, { x, y, weight = 1 }) => total + weight * of(x, y), 0);
  const all = sum(() => 1);
  const isFree = through === 'anywhere';
  const middle = isFree ? sum((x) => x) / all : 0;
  const height = isFree ? sum((_, y) => y) / all : 0;
  const spread = sum((x) => (x - middle) ** 2);
  const slope = sum((x, y) => (x - middle) * (y - height)) / spread;
  const residualSumOfSquares = sum((x, y) => (y - height - slope * (x - middle)) ** 2);
  const dof = points.length - (isFree ? 2 : 1);
  return {
    intercept: height - slope * middle,
    slope,
    interceptVariance: isFree ? 1 / all + middle ** 2 / spread : 0,
    slopeVariance: 1 / spread,
    covariance: isFree ? -middle / spread : 0,
    residualSumOfSquares,
    residualVariance: dof > 0 ? residualSumOfSquares / dof : 0,
    dof,
  };
}
