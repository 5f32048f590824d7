/** The standard normal density at `z`. */
export const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** Where the series becomes slower than the continued fraction. */
const tailFrom = 2.5;

/** Probability above `z` >= tailFrom, by Laplace's continued fraction (Abramowitz & Stegun 1964, 26.2.14). */
function upperTail(z: number): number {
  let fraction = z;
  for (let n = 100; n >= 1; n -= 1) fraction = z + n / fraction;
  return normalDensity(z) / fraction;
}

/** Probability between 0 and `z`, by the series of odd powers (Abramowitz & Stegun 1964, 26.2.11). */
function fromMiddle(z: number): number {
  let term = z;
  let sum = z;
  for (let n = 1; Math.abs(term) > 1e-17 * Math.abs(sum); n += 1) {
    term *= (z * z) / (2 * n + 1);
    sum += term;
  }
  return sum * normalDensity(z);
}

/** The standard normal distribution function, to about 1e-15. */
export function normalProbability(z: number): number {
  if (z > tailFrom) return 1 - upperTail(z);
  if (z < -tailFrom) return upperTail(-z);
  return 0.5 + fromMiddle(z);
}

/** The point that a standard normal value stays below with probability `p` (0 < p < 1), by bisection to the last digit. */
export function normalQuantile(p: number): number {
  let [low, high] = [-40, 40];
  for (let step = 0; step < 100; step += 1) {
    const middle = (low + high) / 2;
    if (normalProbability(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
