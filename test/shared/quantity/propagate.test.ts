import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverageFactor, type Part } from '../../../src-shared/quantity/coverage.ts';
import { exact, rectangular, standardUncertainty, type Estimate } from '../../../src-shared/quantity/estimate.ts';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { drawOwnError, simulate } from '../../../src-shared/quantity/monte-carlo.ts';
import { normalProbability, normalQuantile } from '../../../src-shared/quantity/normal.ts';
import { propagate, propagateEach } from '../../../src-shared/quantity/propagate.ts';

const normal = (value: number, u: number, shared?: { id: string; u: number }): Estimate => ({
  value,
  u,
  shape: 'normal',
  dof: Infinity,
  ...(shared === undefined ? {} : { shared }),
});

describe('propagate', () => {
  it('finds sensitivities to eight digits or better', () => {
    const smooth: readonly [(x: number) => number, (x: number) => number][] = [
      [(x) => x ** 3, (x) => 3 * x ** 2],
      [Math.sqrt, (x) => 0.5 / Math.sqrt(x)],
      [Math.log, (x) => 1 / x],
      [Math.exp, Math.exp],
      [(x) => 1 / x, (x) => -1 / x ** 2],
      [Math.atan, (x) => 1 / (1 + x ** 2)],
    ];
    for (const [formula, slope] of smooth) {
      for (const x of [0.003, 0.7, 3, 21]) {
        const found = propagate({ x: normal(x, 1e-6 * x) }, (values) => formula(values.x));
        const relative = Math.abs((found.u ?? NaN) / Math.abs(slope(x) * 1e-6 * x) - 1);
        expect(relative, `${String(formula)} at ${x}`).toBeLessThan(1e-8);
      }
    }
  });

  it('gives each of several numbers what it would get alone', () => {
    const tree = { a: normal(2, 0.1), b: normal(5, 0.2, { id: 'meter', u: 0.1 }), c: rectangular(3, 0.4) };
    const product = ({ a, b }: { a: number; b: number }) => a * b;
    const power = ({ a, c }: { a: number; c: number }) => c ** a;
    const both = propagateEach(tree, (values) => [product(values), power(values)]);
    expect(both).toEqual([propagate(tree, product), propagate(tree, power)]);
    expect(propagateEach(tree, () => [])).toEqual([]);
  });

  it('adds independent parts in squares, and shared parts with their signs', () => {
    const gain = (u: number) => ({ id: 'meter', u });
    const sum = propagate({ a: normal(1, 0.3, gain(0.1)), b: normal(2, 0.4, gain(0.2)) }, ({ a, b }) => a + b);
    expect(sum.u).toBeCloseTo(Math.hypot(0.5, 0.3), 12);
    const difference = propagate({ a: normal(1, 0.3, gain(0.2)), b: normal(2, 0.4, gain(0.2)) }, ({ a, b }) => a - b);
    expect(difference.u).toBeCloseTo(0.5, 12);
    expect(difference.budget.map(({ input }) => input)).toEqual(['a', 'b', 'shared:meter']);
  });

  it('moves one and the same estimate together wherever it stands', () => {
    const x = normal(5, 0.1);
    expect(propagate({ first: x, second: x }, ({ first, second }) => first - second).u).toBe(0);
    expect(propagate({ first: x, second: x }, ({ first, second }) => first + second).u).toBeCloseTo(0.2, 12);
  });

  it('passes an unknown uncertainty on only where it matters', () => {
    const unknown: Estimate = { value: 2, u: null, shape: 'normal', dof: Infinity };
    expect(propagate({ unknown, b: normal(1, 0.1) }, ({ unknown: a, b }) => a * b).u).toBeNull();
    expect(propagate({ unknown, b: normal(1, 0.1) }, ({ b }) => 3 * b).u).toBeCloseTo(0.3, 12);
    expect(standardUncertainty(unknown)).toBeNull();
  });

  it('is rough where the formula bends within the doubt, and says that it is', () => {
    expect(propagate({ x: normal(10, 0.5) }, ({ x }) => 1 / x).rough).toBe(false);
    expect(propagate({ x: normal(10, 4) }, ({ x }) => 1 / x).rough).toBe(true);
  });

  it('agrees with Monte Carlo on formulas of this trade', () => {
    const doubt = fc.record({
      volts: fc.double({ min: 5, max: 250, noNaN: true }),
      amps: fc.double({ min: 0.1, max: 10, noNaN: true }),
      percent: fc.double({ min: 0.1, max: 2, noNaN: true }),
      gain: fc.double({ min: 0.1, max: 2, noNaN: true }),
    });
    fc.assert(
      fc.property(doubt, ({ volts, amps, percent, gain }) => {
        const inputs = {
          volts: { ...rectangular(volts, (percent / 100) * volts), shared: { id: 'a', u: (gain / 100) * volts } },
          coil: { ...normal(volts / 12, (percent / 1200) * volts), shared: { id: 'a', u: (gain / 1200) * volts } },
          amps: normal(amps, (percent / 100) * amps),
          turns: exact(10),
        };
        const formula = (each: { volts: number; coil: number; amps: number; turns: number }) =>
          ((each.turns * each.volts) / each.coil) * Math.sqrt(each.amps);
        const first = propagate(inputs, formula);
        const drawn = simulate(inputs, formula, seededGenerator(3), 20_000);
        expect(drawn.u / (first.u ?? NaN)).toBeCloseTo(1, 1);
        expect(Math.abs(drawn.mean - first.value)).toBeLessThan(0.1 * (first.u ?? NaN));
      }),
      { seed: 20260402, numRuns: 15 },
    );
  });
});

describe('coverage factor', () => {
  const part = (u: number, shape: Part['shape']): Part => ({ u, shape, dof: Infinity });

  it('goes from 1.645 for one rectangle to 1.96 for a normal', () => {
    expect(coverageFactor([part(1, 'rectangular')], Infinity)).toBeCloseTo(0.95 * Math.sqrt(3), 9);
    expect(coverageFactor([part(1, 'triangular')], Infinity)).toBeCloseTo((1 - Math.sqrt(0.05)) * Math.sqrt(6), 9);
    expect(coverageFactor([part(1, 'normal')], Infinity)).toBeCloseTo(1.959964, 6);
    const rest = [0, 0.1, 0.3, 0.6, 1, 2, 5, 100].map((u) =>
      coverageFactor([part(1, 'rectangular'), part(u, 'normal')], Infinity),
    );
    expect(rest).toEqual([...rest].sort((a, b) => a - b));
    expect(rest.at(-1)).toBeCloseTo(1.959964, 4);
  });

  it.each([
    [
      ['rectangular', 'normal'],
      [1, 0.3],
    ],
    [
      ['rectangular', 'normal'],
      [1, 1],
    ],
    [
      ['triangular', 'normal'],
      [1, 0.2],
    ],
    [
      ['rectangular', 'rectangular'],
      [1, 0.5],
    ],
    [
      ['rectangular', 'rectangular', 'rectangular'],
      [1, 1, 1],
    ],
    [
      ['rectangular', 'triangular', 'normal'],
      [0.6, 1, 0.3],
    ],
  ] as const)('covers 95 %% of drawn sums of %j of sizes %j', (shapes, sizes) => {
    const parts = shapes.map((shape, index) => part(sizes[index] ?? NaN, shape));
    const reach = coverageFactor(parts, Infinity) * Math.hypot(...sizes);
    const generator = seededGenerator(9);
    let inside = 0;
    for (let draw = 0; draw < 100_000; draw += 1) {
      const sum = parts.reduce((total, each) => total + each.u * drawOwnError(each, generator), 0);
      if (Math.abs(sum) <= reach) inside += 1;
    }
    expect(inside / 100_000).toBeGreaterThan(0.944);
    expect(inside / 100_000).toBeLessThan(0.958);
  });
});

describe('the normal distribution', () => {
  // Abramowitz & Stegun (1964), Table 26.1.
  it.each([
    [0, 0.5],
    [1, 0.841344746068543],
    [2, 0.977249868051821],
    [3, 0.99865010196837],
    [-4, 0.0000316712418331],
  ])('has %d below it with probability %d', (z, p) => {
    expect(normalProbability(z)).toBeCloseTo(p, 14);
  });

  it('has a quantile that undoes the probability', () => {
    for (const p of [0.001, 0.025, 0.3, 0.5, 0.975, 0.9999]) {
      expect(normalProbability(normalQuantile(p))).toBeCloseTo(p, 13);
    }
  });
});

describe('the generator', () => {
  it('repeats itself from the same seed, and differs from the next one', () => {
    const draws = (seed: number) => {
      const generator = seededGenerator(seed);
      return Array.from({ length: 5 }, () => generator.uniform());
    };
    expect(draws(1)).toEqual(draws(1));
    expect(draws(1)).not.toEqual(draws(2));
  });

  it('draws errors of standard deviation 1, and of the tails that few degrees of freedom ask for', () => {
    const generator = seededGenerator(4);
    const deviation = (shape: Estimate['shape'], dof = Infinity) => {
      const draws = Array.from({ length: 100_000 }, () => drawOwnError({ shape, dof }, generator));
      return Math.sqrt(draws.reduce((sum, each) => sum + each ** 2, 0) / draws.length);
    };
    expect(deviation('normal')).toBeCloseTo(1, 1);
    expect(deviation('rectangular')).toBeCloseTo(1, 1);
    expect(deviation('triangular')).toBeCloseTo(1, 1);
    // Student's t has variance dof / (dof - 2).
    expect(deviation('normal', 10)).toBeCloseTo(Math.sqrt(10 / 8), 1);
  });
});
