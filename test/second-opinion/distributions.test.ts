import studentT from '@stdlib/stats-base-dists-t-quantile';
import { gamma } from 'mathjs';
import { cumulativeStdNormalProbability, mean, probit, quantile, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { coverageFactor, type Part } from '../../src-shared/quantity/coverage.ts';
import type { Estimate } from '../../src-shared/quantity/estimate.ts';
import { seededGenerator } from '../../src-shared/quantity/generator.ts';
import { drawOwnError, simulate } from '../../src-shared/quantity/monte-carlo.ts';
import { normalProbability, normalQuantile } from '../../src-shared/quantity/normal.ts';
import { studentTQuantile } from '../../src-shared/quantity/student-t.ts';
import { close } from './close.ts';

/** Simpson's rule. */
function integral(of: (x: number) => number, from: number, to: number, steps = 2000): number {
  const h = (to - from) / steps;
  let total = of(from) + of(to);
  for (let step = 1; step < steps; step += 1) total += (step % 2 === 1 ? 4 : 2) * of(from + step * h);
  return (total * h) / 3;
}

const density = (dof: number) => {
  const size = gamma((dof + 1) / 2) / (gamma(dof / 2) * Math.sqrt(dof * Math.PI));
  return (t: number) => size * (1 + (t * t) / dof) ** (-(dof + 1) / 2);
};

describe("Student's t", () => {
  it.each([1, 1.5, 2, 3.7, 5, 10.2, 30, 120])('leaves its probability below the quantile at %d degrees', (dof) => {
    for (const p of [0.6, 0.9, 0.975, 0.995]) {
      const t = studentTQuantile(p, dof);
      expect(0.5 + integral(density(dof), 0, t, 20_000)).toBeCloseTo(p, 8);
    }
  });

  it('goes over to the normal distribution without a step', () => {
    close(studentTQuantile(0.975, 1.0001e6), studentT(0.975, 1.0001e6), 3e-6);
    close(studentTQuantile(0.975, Infinity), studentT(0.975, 1e6), 3e-6);
  });
});

describe('the normal distribution, as simple-statistics has it', () => {
  // Its table has four digits, and its quantile is an approximation to three.
  it('has the same probabilities and quantiles', () => {
    for (const z of [-2.5, -1, -0.3, 0, 0.67, 1.96, 3]) {
      expect(Math.abs(normalProbability(z) - cumulativeStdNormalProbability(z))).toBeLessThan(1e-4);
    }
    for (const p of [0.05, 0.3, 0.5, 0.8, 0.975]) expect(Math.abs(normalQuantile(p) - probit(p))).toBeLessThan(5e-3);
  });

  it('has its density integrated to the same probability', () => {
    for (const z of [0.5, 1.96, 4]) {
      const area = integral((x) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI), 0, z);
      expect(normalProbability(z)).toBeCloseTo(0.5 + area, 10);
    }
  });
});

describe('drawn errors, as simple-statistics counts them', () => {
  it('have the mean, the spread and the quantiles that the simulation states', () => {
    const x: Estimate = { value: 10, u: 2, shape: 'normal', dof: Infinity };
    const trials = 5000;
    const found = simulate({ x }, (each) => each.x ** 2, seededGenerator(21), trials);
    const generator = seededGenerator(21);
    const again = Array.from({ length: trials }, () => (10 + 2 * drawOwnError(x, generator)) ** 2);
    close(found.mean, mean(again));
    close(found.u, sampleStandardDeviation(again));
    close(found.interval95[0], quantile(again, 0.025), 2e-3);
    close(found.interval95[1], quantile(again, 0.975), 2e-3);
  });
});

describe('the coverage factor', () => {
  /** A rectangle of standard deviation `flat` on top of a normal of `rest`, by integration over the rectangle. */
  const within = (reach: number, flat: number, rest: number) => {
    const half = Math.sqrt(3) * flat;
    const inside = (middle: number) =>
      normalProbability((reach - middle) / rest) - normalProbability((-reach - middle) / rest);
    return integral(inside, -half, half) / (2 * half);
  };

  it.each([
    [1, 0.05],
    [1, 0.3],
    [1, 1],
    [0.4, 1],
  ])('holds 95 %% of a rectangle of %d on a normal of %d', (flat, rest) => {
    const parts: readonly Part[] = [
      { u: flat, shape: 'rectangular', dof: Infinity },
      { u: rest, shape: 'normal', dof: Infinity },
    ];
    const reach = coverageFactor(parts, Infinity) * Math.hypot(flat, rest);
    expect(within(reach, flat, rest)).toBeCloseTo(0.95, 6);
  });
});
