import type { Shape } from './estimate.ts';
import { normalDensity, normalProbability, normalQuantile } from './normal.ts';
import { studentTQuantile } from './student-t.ts';

/** One independent part of a combined uncertainty: its size, shape and degrees of freedom. */
export interface Part {
  /** Standard uncertainty that this part gives to the result, in the result's unit; the sign is that of its effect. */
  readonly u: number;
  readonly shape: Shape;
  readonly dof: number;
}

/** The first and second integral of the normal distribution function: what adding flat shapes to it comes down to. */
const once = (z: number) => z * normalProbability(z) + normalDensity(z);
const twice = (z: number) => ((z * z + 1) * normalProbability(z) + z * normalDensity(z)) / 2;

/** Probability that rectangular(half width `a`) + normal(`s`) lies within `x` of the middle. */
const withinRectangular = (x: number, a: number, s: number) =>
  s === 0 ? Math.min(1, x / a) : (s / a) * (once((x + a) / s) - once((x - a) / s)) - 1;

/** Probability that triangular(half width `a`) + normal(`s`) lies within `x` of the middle. */
function withinTriangular(x: number, a: number, s: number): number {
  if (s === 0) return x >= a ? 1 : 1 - (1 - x / a) ** 2;
  const secondDifference = twice((x + a) / s) - 2 * twice(x / s) + twice((x - a) / s);
  return 2 * (s / a) ** 2 * secondDifference - 1;
}

const flatShapes = {
  rectangular: { halfWidthPerU: Math.sqrt(3), within: withinRectangular },
  triangular: { halfWidthPerU: Math.sqrt(6), within: withinTriangular },
};

/** Half width over standard uncertainty for one flat part of size `flat` on top of a normal rest of size `rest`. */
function flatFactor(shape: 'rectangular' | 'triangular', flat: number, rest: number, p: number): number {
  const { halfWidthPerU, within } = flatShapes[shape];
  const u = Math.hypot(flat, rest);
  const a = (flat * halfWidthPerU) / u;
  // Under a thousandth the normal rest cannot be seen, and the difference of near equals would be.
  const s = rest < 1e-3 * flat ? 0 : rest / u;
  let [low, high] = [0, 10];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (within(middle, a, s) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * The coverage factor k: the interval value ± k u holds the truth with probability `p`.
 *
 * Without a flat part it is Student's t at the effective degrees of freedom (JCGM 100:2008, G.4). Where the largest part
 * that is not normal matters, the rest is taken as normal and the sum of the two is solved exactly, so that k goes
 * smoothly from 1.65 (one rectangular part alone: EA-4/02 M:2013, S9) to 1.96 (many parts); few degrees of freedom then
 * widen it in the same ratio as they widen the normal case.
 */
export function coverageFactor(parts: readonly Part[], dof: number, p = 0.95): number {
  const t = studentTQuantile((1 + p) / 2, dof);
  const flat = parts.reduce<Part | undefined>(
    (largest, part) => (part.shape !== 'normal' && Math.abs(part.u) > Math.abs(largest?.u ?? 0) ? part : largest),
    undefined,
  );
  if (flat === undefined || flat.shape === 'normal') return t;
  const rest = Math.hypot(...parts.filter((part) => part !== flat).map(({ u }) => u));
  const size = Math.abs(flat.u);
  if (size < 1e-3 * rest) return t;
  return (flatFactor(flat.shape, size, rest, p) * t) / normalQuantile((1 + p) / 2);
}

/**
 * Effective degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, G.4.1), not truncated; `Infinity` when every
 * part is known well.
 */
export function effectiveDegreesOfFreedom(parts: readonly Part[]): number {
  const u = Math.hypot(...parts.map((part) => part.u));
  if (u === 0) return Infinity;
  const sum = parts.reduce((total, part) => total + (part.u / u) ** 4 / part.dof, 0);
  return 1 / sum;
}
