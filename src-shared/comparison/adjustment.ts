import * as v from 'valibot';
import { formatEstimate, formatNumber, type Written } from '../quantity/format.ts';
import type { Result } from '../record/run.ts';

/** What a kept result of `adjust-turns` comes to, in words. */
export interface Adjustment {
  readonly winding: string | null;
  /** `cannot-tell`: what differs is within the doubt of the reading, or nobody knows that doubt. */
  readonly verdict: 'change' | 'leave' | 'cannot-tell';
  /** Whole turns to add, or to take off below 0; only to be done where the verdict is `change`. */
  readonly turns: number;
  readonly title: string;
  readonly why: string;
}

const number = v.pipe(v.number(), v.finite());
const Quantity = v.looseObject({ value: number, u: v.nullable(number), unit: v.string() });
const Kept = v.looseObject({
  input: v.looseObject({
    winding: v.optional(v.string()),
    targetVolts: number,
    nominalVolts: v.optional(number),
    dropVolts: v.optional(v.unknown()),
  }),
  output: v.looseObject({
    results: v.looseObject({
      turnsToAdd: number,
      voltsNow: Quantity,
      voltsAfter: Quantity,
      voltsPerTurn: Quantity,
      worthwhile: v.nullable(v.boolean()),
    }),
  }),
});

const written = (quantity: Written): string => formatEstimate(quantity);
const turnsWords = (turns: number): string => `${Math.abs(turns)} turn${Math.abs(turns) === 1 ? '' : 's'}`;

/**
 * What a kept `adjust-turns` says of an output: how many whole turns to add or take off, that it is to be left, or that these
 * meters cannot tell. Null for any other result.
 */
export function adjustmentOf(result: Result): Adjustment | null {
  if (result.calculation !== 'adjust-turns') return null;
  const read = v.safeParse(Kept, result);
  if (!read.success) return null;
  const { input, output } = read.output;
  const { turnsToAdd: turns, voltsNow, voltsAfter, voltsPerTurn, worthwhile } = output.results;
  const winding = input.winding ?? null;
  const name = winding === null ? 'the winding' : `“${winding}”`;
  const line = input.nominalVolts === undefined ? '' : ` at ${formatNumber(input.nominalVolts, 4)} V line`;
  const load = input.dropVolts === undefined ? 'with nothing on it' : 'under its load';
  const seen = `It gives ${written(voltsNow)} ${load}${line}, and ${formatNumber(input.targetVolts, 4)} V is wanted.`;
  const step = `One turn is ${formatNumber(voltsPerTurn.value, 3)} V.`;
  const about = { winding, turns };
  if (worthwhile === true) {
    const act = turns > 0 ? `Add ${turnsWords(turns)} to ${name}` : `Take ${turnsWords(turns)} off ${name}`;
    return { ...about, verdict: 'change', title: `${act}.`, why: `${seen} With that: ${written(voltsAfter)}. ${step}` };
  }
  if (worthwhile === null) {
    const why = `${seen} How far the reading can be trusted is not known: describe the meter’s accuracy and read it again.`;
    return { ...about, verdict: 'cannot-tell', title: `Nobody can tell yet whether ${name} wants other turns.`, why };
  }
  if (turns === 0) {
    const why = `${seen} No whole turn comes nearer. ${step}`;
    return { ...about, verdict: 'leave', title: `Leave ${name} as it is.`, why };
  }
  const why = `${seen} The difference lies within the doubt of the reading. ${step}`;
  return {
    ...about,
    verdict: 'cannot-tell',
    title: `These meters cannot tell whether ${name} wants other turns.`,
    why,
  };
}

/** The newest of what was kept of each winding of a build. */
export function adjustmentsOf(results: readonly Result[], buildId: number): readonly Adjustment[] {
  const newest = new Map<string | null, Adjustment>();
  for (const result of results) {
    const found = result.buildId === buildId ? adjustmentOf(result) : null;
    if (found !== null) newest.set(found.winding, found);
  }
  return [...newest.values()];
}
