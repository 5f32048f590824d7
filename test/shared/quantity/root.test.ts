import { describe, expect, it } from 'vitest';
import { rootBetween } from '../../../src-shared/quantity/root.ts';

describe('a root between two places', () => {
  // The fixed point of the cosine: Sloane and Plouffe, Encyclopedia of Integer Sequences, A003957.
  it('finds where the cosine is its own argument', () => {
    expect(rootBetween((x) => Math.cos(x) - x, 0, 1)).toBeCloseTo(0.7390851332151607, 14);
  });

  it('finds it however the function leans', () => {
    expect(rootBetween((x) => x ** 9 - 1e-3, 0, 5)).toBeCloseTo(1e-3 ** (1 / 9), 13);
    expect(rootBetween((x) => 2 - Math.exp(x), -20, 3)).toBeCloseTo(Math.LN2, 13);
    expect(rootBetween((x) => (x < 0.3 ? x - 0.3 : 100 * (x - 0.3)), -1, 1)).toBeCloseTo(0.3, 12);
  });

  it('takes an end that is one already, and has none where both ends have one sign', () => {
    expect(rootBetween((x) => x, 0, 1)).toBe(0);
    expect(rootBetween((x) => x - 1, 0, 1)).toBe(1);
    expect(rootBetween((x) => x * x + 1, -1, 1)).toBeNull();
    expect(rootBetween(() => NaN, -1, 1)).toBeNull();
  });
});
