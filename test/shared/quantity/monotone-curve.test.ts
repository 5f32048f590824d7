import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allowanceOf } from '../../../src-shared/quantity/between-knots.ts';
import { monotoneCurve, type Knot } from '../../../src-shared/quantity/monotone-curve.ts';

const knotsOf = (x: readonly number[], f: (x: number) => number): Knot[] => x.map((each) => ({ x: each, y: f(each) }));
const even = (from: number, to: number, count: number) =>
  Array.from({ length: count }, (_, k) => from + ((to - from) * k) / (count - 1));

const steps = fc.array(
  fc.record({
    across: fc.double({ min: 0.01, max: 2, noNaN: true }),
    up: fc.double({ min: 1e-4, max: 5, noNaN: true }),
  }),
  { minLength: 1, maxLength: 12 },
);
const climb = (given: readonly { readonly across: number; readonly up: number }[]): Knot[] => {
  let at = { x: 0, y: 0 };
  return [at, ...given.map(({ across, up }) => (at = { x: at.x + across, y: at.y + up }))];
};

describe('a monotone curve', () => {
  it('goes through its knots and never down, whatever the steps', () => {
    fc.assert(
      fc.property(steps, (given) => {
        const knots = climb(given);
        const { at } = monotoneCurve(knots);
        for (const { x, y } of knots) expect(at(x)).toBeCloseTo(y, 10);
        const all = even(-1, (knots.at(-1)?.x ?? 0) + 1, 400).map(at);
        all.slice(1).forEach((y, k) => expect(y).toBeGreaterThanOrEqual((all[k] ?? NaN) - 1e-12));
      }),
      { seed: 20260501, numRuns: 100 },
    );
  });

  it('is exact for a straight line, and for a parabola where nothing holds the slopes', () => {
    const line = monotoneCurve(knotsOf([0, 0.3, 1, 4], (x) => 2 + 3 * x));
    for (const x of [-2, 0.1, 0.7, 3, 9]) expect(line.at(x)).toBeCloseTo(2 + 3 * x, 12);
    const bent = monotoneCurve(knotsOf([1, 1.4, 2, 2.5, 3.3], (x) => x * x));
    for (const x of [1.1, 1.7, 2.2, 3]) expect(bent.at(x)).toBeCloseTo(x * x, 12);
  });

  // The data called RPN 15A, F. N. Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17 (1980), Table 1: from memory.
  it('climbs the steep step of Fritsch and Carlson’s data without passing 0 or 1', () => {
    const x = [7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20];
    const y = [0, 2.76429e-5, 4.37498e-2, 0.169183, 0.469428, 0.94374, 0.998636, 0.999919, 0.999994];
    const { at } = monotoneCurve(x.map((each, k) => ({ x: each, y: y[k] ?? NaN })));
    const all = even(7.99, 20, 2000).map(at);
    expect(Math.min(...all)).toBe(0);
    expect(Math.max(...all)).toBeLessThanOrEqual(0.999994);
    all.slice(1).forEach((each, k) => expect(each).toBeGreaterThanOrEqual((all[k] ?? NaN) - 1e-15));
  });

  it('comes nearer with the third power of the spacing at least', () => {
    const f = (x: number) => Math.log(20 * Math.exp(x) + 60 * Math.exp(8 * x));
    const worst = (count: number) => {
      const { at } = monotoneCurve(knotsOf(even(-0.8, 0.1, count), f));
      return Math.max(...even(-0.8, 0.1, 500).map((x) => Math.abs(at(x) - f(x))));
    };
    expect(worst(17)).toBeLessThan(worst(9) / 7);
  });
});

describe('the allowance for what lies between knots', () => {
  // Curves of iron in logarithms, from gentle to sharp.
  const curves: Readonly<Record<string, (x: number) => number>> = {
    gentle: (x) => Math.log(20 * Math.exp(0.8 * x) + 80 * Math.exp(5 * x)),
    usual: (x) => Math.log(30 * Math.exp(x) + 90 * Math.exp(9 * x)),
    sharp: (x) => Math.log(30 * Math.exp(x) + 60 * Math.exp(18 * x)),
    exponential: (x) => Math.log(20 * Math.exp(x) + 1.5 * Math.sinh(4.5 * Math.exp(x))),
  };

  it.each(Object.keys(curves))('holds the truth of a %s curve nearly everywhere, and is not idle', (name) => {
    const f = curves[name] ?? Math.log;
    for (const count of [5, 6, 8, 12]) {
      const curve = monotoneCurve(knotsOf(even(0.45, 1.1, count).map(Math.log), f));
      const { halfWidth } = allowanceOf(curve);
      const at = even(Math.log(0.45), Math.log(1.1), 400);
      const errors = at.map((x) => Math.abs(curve.at(x) - f(x)));
      const held = at.filter((x, k) => (errors[k] ?? NaN) <= halfWidth(x) + 1e-12).length / at.length;
      expect(held, `${count} knots`).toBeGreaterThan(0.7);
      const mean = (all: readonly number[]) => all.reduce((sum, each) => sum + each, 0) / all.length;
      // Twice the error at most is missed, and no more than thirty times is allowed.
      at.forEach((x, k) => expect(errors[k], `${count} knots at ${x}`).toBeLessThan(3 * halfWidth(x) + 2e-4));
      expect(mean(at.map(halfWidth)), `${count} knots`).toBeLessThan(30 * mean(errors));
    }
  });

  it('is nothing at a knot, and grows beyond the ends', () => {
    const curve = monotoneCurve(knotsOf([-0.8, -0.5, -0.3, -0.1, 0], curves['usual'] ?? Math.log));
    const { halfWidth, placeOf, places } = allowanceOf(curve);
    for (const { x } of curve.knots) expect(halfWidth(x)).toBe(0);
    expect(halfWidth(0.1)).toBeGreaterThan(halfWidth(0.05));
    expect(halfWidth(-1)).toBeGreaterThan(halfWidth(-0.9));
    expect([-1, -0.6, -0.4, -0.2, -0.05, 0.1].map(placeOf)).toEqual([0, 1, 2, 3, 4, 5]);
    expect(places).toBe(6);
  });

  it('knows little of the bend with three knots, and nothing with two', () => {
    const f = curves['usual'] ?? Math.log;
    const half = (x: readonly number[]) => allowanceOf(monotoneCurve(knotsOf(x, f))).halfWidth(-0.25);
    expect(half([-0.5, 0])).toBeGreaterThan(0.05);
    expect(half([-0.5, -0.2, 0])).toBeGreaterThan(0.01);
    expect(half([-0.7, -0.5, -0.35, -0.2, -0.1, 0])).toBeLessThan(0.01);
  });
});
