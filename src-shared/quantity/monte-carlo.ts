import { assertNever } from './assert-never.ts';
import { standardUncertainty, type Estimate } from './estimate.ts';
import type { Generator } from './generator.ts';
import { takeApart, type Values } from './sources.ts';

/** What a Monte Carlo run of a formula gives. */
export interface Simulated {
  readonly mean: number;
  readonly u: number;
  /** Probabilistically symmetric 95 % interval (JCGM 101:2008, 7.7). */
  readonly interval95: readonly [number, number];
  /** Shortest 95 % interval (JCGM 101:2008, 5.3.4): the one to quote where the distribution ends abruptly. */
  readonly shortest95: readonly [number, number];
}

/** A standard gamma number of shape `a` >= 0.5, by squeeze and reject (Marsaglia and Tsang 2000). */
function gamma(a: number, generator: Generator): number {
  if (a < 1) return gamma(a + 1, generator) * (1 - generator.uniform()) ** (1 / a);
  const d = a - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = generator.normal();
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - generator.uniform()) < (x * x) / 2 + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** The square of a standard uncertainty seen in `dof` degrees of freedom, over the true one: chi-squared over dof. */
export const seenVarianceRatio = (dof: number, generator: Generator): number =>
  dof === Infinity ? 1 : (2 * gamma(dof / 2, generator)) / dof;

/**
 * A draw of one estimate's own error in units of its u: standard deviation 1 by its shape (JCGM 101:2008, 6.4.2 to 6.4.7),
 * and Student's t where few degrees of freedom say that u itself is doubtful (6.4.9).
 */
export function drawOwnError({ shape, dof }: Pick<Estimate, 'shape' | 'dof'>, generator: Generator): number {
  switch (shape) {
    case 'rectangular':
      return Math.sqrt(3) * (2 * generator.uniform() - 1);
    case 'triangular':
      return Math.sqrt(6) * (generator.uniform() - generator.uniform());
    case 'normal':
      return generator.normal() / Math.sqrt(seenVarianceRatio(dof, generator));
    default:
      return assertNever(shape);
  }
}

/**
 * Propagation of distributions by Monte Carlo (JCGM 101:2008, 7): the check on first-order propagation.
 * Inputs and formula as for `propagate`; an unknown u counts as 0 here.
 */
export function simulate<T extends object>(
  inputs: T,
  formula: (values: Values<T>) => number,
  generator: Generator,
  trials: number,
): Simulated {
  const { values, sources } = takeApart(inputs);
  const doubtful = sources.filter(({ estimate }) => standardUncertainty(estimate) !== 0);
  const results = new Float64Array(trials);
  const common = new Map<string, number>();
  for (let trial = 0; trial < trials; trial += 1) {
    common.clear();
    for (const { estimate, set } of doubtful) {
      const { value, u, shared } = estimate;
      let error = u === null || u === 0 ? 0 : u * drawOwnError(estimate, generator);
      if (shared !== undefined) {
        const draw = common.get(shared.id) ?? generator.normal();
        common.set(shared.id, draw);
        error += shared.u * draw;
      }
      set(value + error);
    }
    results[trial] = formula(values);
  }
  return summary(results.sort());
}

function summary(sorted: Float64Array): Simulated {
  const count = sorted.length;
  const at = (index: number) => sorted[Math.min(count - 1, Math.max(0, index))] ?? NaN;
  const mean = sorted.reduce((sum, x) => sum + x, 0) / count;
  const variance = sorted.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (count - 1);
  const inside = Math.round(0.95 * count);
  const symmetric = Math.round((count - inside) / 2);
  let shortest = 0;
  for (let low = 1; low + inside < count; low += 1) {
    if (at(low + inside) - at(low) < at(shortest + inside) - at(shortest)) shortest = low;
  }
  return {
    mean,
    u: Math.sqrt(variance),
    interval95: [at(symmetric), at(symmetric + inside)],
    shortest95: [at(shortest), at(shortest + inside)],
  };
}
