import { formatNumber } from '../quantity/format.ts';

/** One test before joining, or after it: what to do, and what the meter should say. */
export interface JoinStep {
  readonly id: string;
  readonly act: string;
  readonly unit: 'V' | 'A';
  /** Null while something that it follows from is not known. */
  readonly expected: number | null;
  /** How far from that still counts as expected, in the unit. */
  readonly within: number;
  /** Other readings that mean something, and what to do then. */
  readonly wrong: readonly { readonly value: number; readonly words: string }[];
  /** What any other reading means. */
  readonly otherwise: string;
  /** Where a turn too many or too few shows: what one turn reads. */
  readonly perTurn?: number;
}

/** What a reading comes to. */
export interface Judged {
  readonly isExpected: boolean;
  readonly words: string;
}

/** How near a reading must come to a known mistake to be named after it. */
const likeness = 0.2;

/** Holds what was read against what was expected; null while nothing is expected. */
export function judgeReading(step: JoinStep, reading: number): Judged | null {
  const { expected, within, wrong, otherwise, perTurn } = step;
  if (expected === null) return null;
  if (Math.abs(reading - expected) <= within) return { isExpected: true, words: 'As expected. Go on.' };
  const known = wrong.find(({ value }) => Math.abs(reading - value) <= Math.max(within, likeness * Math.abs(value)));
  if (known !== undefined) return { isExpected: false, words: known.words };
  const turns = perTurn === undefined ? null : Math.abs(reading - expected) / perTurn;
  const apart = turns === null || turns < 0.5 ? '' : ` That is about ${formatNumber(turns, 2)} turns.`;
  return { isExpected: false, words: `${otherwise}${apart}` };
}
