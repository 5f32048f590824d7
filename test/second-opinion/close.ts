import { expect } from 'vitest';

/** Passes when two ways to a number agree to so many parts of its size; both must be there. */
export function close(one: number | null | undefined, other: number | null | undefined, relative = 1e-9) {
  const [a, b] = [one ?? NaN, other ?? NaN];
  expect(Math.abs(a - b) <= relative * Math.max(Math.abs(a), Math.abs(b), 1e-12), `${a} is not ${b}`).toBe(true);
}
