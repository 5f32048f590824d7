import { seededGenerator } from './generator.ts';
import { simulate } from './monte-carlo.ts';
import type { Values } from './sources.ts';

/** A 95 % interval from drawing the errors of the inputs, and how many times they were drawn. */
export interface Drawn {
  readonly interval95: readonly [number, number];
  readonly draws: number;
}

/** Enough to see half a step of one digit of u: the ends of the interval scatter by 2 % of u. */
const draws = 20_000;
/** Values drawn in all: beyond it fewer draws are made, so that no answer is long in coming. */
const mostValues = 200_000;
/** With fewer the ends would scatter by more than the half step. */
const fewestDraws = 2500;
/** Any; always the same, so that the same input has the same answer. */
const seed = 101;

/** Half a step of the last of `digits` digits of `u`: what two intervals may differ by (JCGM 101:2008, 7.9.2). */
export function numericalTolerance(u: number, digits: number): number {
  const [, power] = u.toExponential(digits - 1).split('e');
  return 0.5 * 10 ** (Number(power) - digits + 1);
}

/** Twice the scatter of an end, in u, by so many draws, beyond what there is with all of them. */
const moreScatter = (made: number) => 0.038 * (Math.sqrt(draws / made) - 1);

/** How far apart the ends may be: nothing is good enough where the first order says that there is no doubt at all. */
const agree = (one: readonly [number, number], other: readonly [number, number], u: number, made: number) =>
  u > 0 && one.every((end, k) => Math.abs(end - (other[k] ?? NaN)) <= numericalTolerance(u, 1) + moreScatter(made) * u);

/** What the draws say of a first-order interval. Without a result in some of them nothing can be told but that it is doubtful. */
export type Opinion = 'not-asked' | 'agrees' | 'no-result' | Drawn;

/**
 * Validation of a first-order interval by Monte Carlo (JCGM 101:2008, clause 8, to one significant digit of u): the drawn
 * interval where the two differ by more than that. Not asked with too many inputs; the errors of a `dear` formula are drawn
 * as seldom as will do. Deterministic.
 */
export function secondOpinion<T extends object>(
  inputs: T,
  formula: (values: Values<T>) => number,
  first: { readonly value: number; readonly u: number; readonly k: number; readonly inputs: number },
  dear = false,
): Opinion {
  const affordable = Math.min(dear ? fewestDraws : draws, Math.floor(mostValues / first.inputs));
  if (affordable < fewestDraws) return 'not-asked';
  const { mean, interval95 } = simulate(inputs, formula, seededGenerator(seed), affordable);
  // A part that is infinite, a time that never comes, is only an end that lies further out.
  if (Number.isNaN(mean) || !interval95.every(Number.isFinite)) return 'no-result';
  const half = first.k * first.u;
  const simple = [first.value - half, first.value + half] as const;
  return agree(simple, interval95, first.u, affordable) ? 'agrees' : { interval95, draws: affordable };
}
