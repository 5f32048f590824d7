import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exact, rectangular, type Estimate } from '../../../src-shared/quantity/estimate.ts';
import { propagate } from '../../../src-shared/quantity/propagate.ts';
import { numericalTolerance } from '../../../src-shared/quantity/second-opinion.ts';

const normal = (value: number, u: number | null): Estimate => ({ value, u, shape: 'normal', dof: Infinity });
const inverse = ({ x }: { readonly x: number }) => 1 / x;

describe('the second opinion on an interval', () => {
  it('is not asked for where the formula hardly bends', () => {
    const found = propagate({ x: normal(10, 0.3) }, inverse);
    expect(found.drawn).toBeUndefined();
    expect(found.rough).toBe(false);
  });

  it('says nothing where it agrees, although the formula bends', () => {
    // y² moves the middle by 6 % of u, which one digit of u does not show.
    const bent = ({ x, y }: { readonly x: number; readonly y: number }) => 5 * x + y ** 2 / 10;
    const found = propagate({ x: normal(0, 1), y: normal(0, 1.7) }, bent);
    expect(found.drawn).toBeUndefined();
    expect(found.rough).toBe(false);
  });

  it('gives the interval that the errors have where it is another one', () => {
    const found = propagate({ x: normal(10, 2) }, inverse);
    // 1 / (10 ± 1.96 × 2), which is exact for a formula that only falls.
    expect(found.drawn?.draws).toBe(20_000);
    expect(found.drawn?.interval95[0]).toBeCloseTo(1 / 13.92, 3);
    expect(found.drawn?.interval95[1]).toBeCloseTo(1 / 6.08, 2);
    expect(found.value - found.k * (found.u ?? NaN)).toBeCloseTo(0.1 - 0.0392, 4);
  });

  it('knows an interval where the first order says that there is no doubt', () => {
    const found = propagate({ x: rectangular(0, 1) }, ({ x }) => x ** 2);
    expect(found.u).toBeNull();
    expect(found.drawn?.interval95[0]).toBeCloseTo(0.025 ** 2, 3);
    expect(found.drawn?.interval95[1]).toBeCloseTo(0.975 ** 2, 2);
  });

  it('repeats itself', () => {
    const once = () => propagate({ x: normal(10, 2), y: normal(1, 0.1) }, ({ x, y }) => y / x).drawn;
    expect(once()).toEqual(once());
  });

  it('keeps errors together that are shared', () => {
    const gain = (value: number) => ({ ...exact(value), shared: { id: 'm', u: 0.3 * value } });
    expect(propagate({ a: gain(10), b: gain(2) }, ({ a, b }) => a / b).drawn).toBeUndefined();
    const apart = { a: normal(10, 3), b: normal(2, 0.6) };
    expect(propagate(apart, ({ a, b }) => a / b).drawn).toBeDefined();
  });

  it('holds back where a part of the draws has no result, where nobody knows an u, and where there are too many', () => {
    const root = propagate({ x: normal(1, 0.8) }, ({ x }) => Math.sqrt(x));
    expect(root).toMatchObject({ rough: true });
    expect(root.drawn).toBeUndefined();
    // Only the draws show that it has no result in one of a thousand places.
    const logarithm = propagate({ x: normal(1, 0.32) }, ({ x }) => Math.log(x));
    expect(logarithm).toMatchObject({ rough: true });
    expect(logarithm.drawn).toBeUndefined();
    expect(propagate({ x: normal(10, 4), y: normal(1, null) }, ({ x, y }) => y / x).drawn).toBeUndefined();
    const many = Array.from({ length: 100 }, () => normal(1, 1));
    const product = propagate({ many }, (each) => each.many.reduce((all, one) => all + one ** 2, 0) ** -1);
    expect(product).toMatchObject({ rough: true });
    expect(product.drawn).toBeUndefined();
  });

  it('draws less often where there is more to draw', () => {
    const some = Array.from({ length: 40 }, () => normal(1, 0.7));
    const found = propagate({ some }, (each) => each.some.reduce((all, one) => all + one ** 2, 0) ** -1);
    expect(found.drawn?.draws).toBe(5000);
  });

  it('is never silent where the simple interval is off by half of u, and right where it speaks', () => {
    const formulas: readonly ((x: number) => number)[] = [
      (x) => 1 / x,
      (x) => x ** 2,
      (x) => x ** 6,
      Math.sqrt,
      Math.log,
      Math.exp,
      (x) => Math.tan(x / 2),
    ];
    let spoken = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...formulas),
        fc.double({ min: 0.5, max: 2, noNaN: true }),
        fc.double({ min: 0.02, max: 0.22, noNaN: true }),
        (formula, x, part) => {
          const { value, u, k, drawn, rough } = propagate({ x: normal(x, part * x) }, (each) => formula(each.x));
          // Each of these only rises or only falls, so that the exact ends are those of the input.
          const ends = [-1.959964, 1.959964].map((z) => formula(x * (1 + z * part))).sort((a, b) => a - b);
          const off = [value - k * (u ?? NaN), value + k * (u ?? NaN)].map((end, i) =>
            Math.abs(end - (ends[i] ?? NaN)),
          );
          if (Math.max(...off) > 0.5 * (u ?? NaN))
            expect(drawn !== undefined || rough, `${String(formula)} ${x} ${part}`).toBe(true);
          if (drawn === undefined) return;
          spoken += 1;
          const width = (ends[1] ?? NaN) - (ends[0] ?? NaN);
          for (const [i, end] of drawn.interval95.entries()) {
            expect(Math.abs(end - (ends[i] ?? NaN))).toBeLessThan(0.04 * width);
          }
        },
      ),
      { seed: 20260701, numRuns: 150 },
    );
    expect(spoken).toBeGreaterThan(20);
  });

  it('draws as seldom as will do for a dear formula', () => {
    const found = propagate({ x: normal(10, 2) }, inverse, { dear: true });
    expect(found.drawn?.draws).toBe(2500);
    expect(found.drawn?.interval95[0]).toBeCloseTo(1 / 13.92, 2);
    const tree = { x: normal(0, 1), y: normal(0, 1.7) };
    expect(propagate(tree, ({ x, y }) => 5 * x + y ** 2 / 10, { dear: true }).drawn).toBeUndefined();
  });

  it('goes by half a step of the digits that are kept', () => {
    expect(numericalTolerance(0.94, 1)).toBeCloseTo(0.05, 12);
    expect(numericalTolerance(0.96, 1)).toBeCloseTo(0.5, 12);
    expect(numericalTolerance(0.94, 2)).toBeCloseTo(0.005, 12);
    expect(numericalTolerance(340, 1)).toBeCloseTo(50, 9);
  });
});
