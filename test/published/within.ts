import { expect } from 'vitest';

/** Passes when a value is no further from what was published than the tolerance stated beside it. */
export function within(value: number | null | undefined, published: number, tolerance: number) {
  const distance = Math.abs((value ?? NaN) - published);
  expect(distance <= tolerance, `${value} is not within ${tolerance} of ${published}`).toBe(true);
}
