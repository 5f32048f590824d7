import type { Generator } from '../../../src-shared/quantity/generator.ts';

/** One of a list, each as likely. */
export const pick = <T>(generator: Generator, from: readonly [T, ...T[]]): T =>
  from[Math.floor(generator.uniform() * from.length)] ?? from[0];

/** A number between two others, each place as likely. */
export const between = (generator: Generator, low: number, high: number): number =>
  low + (high - low) * generator.uniform();
