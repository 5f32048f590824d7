import fc from 'fast-check';
import { expect } from 'vitest';

/** What every law is tried with: one frozen seed, and as many cases as stay quick. */
export const options = { seed: 20260401, numRuns: 60 };

/** Numbers from `min` to `max`; none so near to 0 that nobody could have meant it. */
export const between = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map(orNothing);
export const orNothing = (value: number) => (Math.abs(value) < 1e-9 ? 0 : value);
/** A number to multiply with, a way up and a way down. */
export const factor = between(0.1, 10);

/** A value as a measured input with so many per cent of standard uncertainty. */
export const known = (value: number, percent: number) => ({ value, u: Math.abs(value) * 0.01 * percent });

/** Passes when two numbers agree to so many parts of their size; both must be there. */
export function close(a: number | null | undefined, b: number | null | undefined, relative = 1e-6) {
  const [one, other] = [a ?? NaN, b ?? NaN];
  const size = Math.max(Math.abs(one), Math.abs(other));
  expect(Math.abs(one - other) <= relative * size + 1e-12, `${one} is not ${other}`).toBe(true);
}

interface Known {
  readonly value: number;
  readonly u: number | null;
}

/** Passes when value and uncertainty of the one are `by` times those of the other. */
export function scaled(one: Known | null | undefined, other: Known | null | undefined, by: number, relative = 1e-6) {
  close(one?.value, by * (other?.value ?? NaN), relative);
  close(one?.u, Math.abs(by) * (other?.u ?? NaN), Math.max(relative, 1e-5));
}
