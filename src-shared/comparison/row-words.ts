import type { Verdict } from '../calculation/compare/judge.ts';
import { formatEstimate, formatNumber, type Written } from '../quantity/format.ts';
import { inSystem, type UnitSystem } from '../quantity/unit.ts';
import { writtenParts } from '../quantity/written-parts.ts';
import type { ComparedRow } from './comparison.ts';
import type { Noted } from './conditions.ts';

/** One compared quantity as a row of texts, in the person's units. */
export interface RowWords {
  readonly name: string;
  readonly before: string;
  readonly after: string;
  /** Signed; empty where there is none. */
  readonly difference: string;
  readonly verdict: string;
  /** Why they cannot be compared, or from where on a change would show; empty where there is nothing to add. */
  readonly why: string;
}

const verdictWords: Readonly<Record<Verdict, string>> = {
  changed: 'changed',
  'no-visible-change': 'no change seen',
  'not-comparable': 'not comparable',
};

const notOnIt = 'not on it';

/** Value and doubt without the unit; said where it is not known. */
export function figureWords(written: Written | null, system: UnitSystem): string {
  if (written === null) return 'not measured';
  const { value, u } = writtenParts(inSystem(written, system));
  return u === null ? `${value}${written.u === null ? ' ± ?' : ''}` : `${value} ± ${u}`;
}

/** `0.349 to 0.382`, an interval without its unit; empty where nobody knows it. */
export function intervalWords(interval: readonly [number, number] | null, unit: string, system: UnitSystem): string {
  if (interval === null) return '';
  const [low, high] = interval.map((value) => formatNumber(inSystem({ value, u: 0, unit }, system).value, 4));
  return `${low} to ${high}`;
}

/** A condition as it was noted, in the person's units. */
export function notedWords(noted: Noted | null, system: UnitSystem): string {
  if (noted === null) return 'not noted';
  return typeof noted === 'string' ? noted : formatEstimate(inSystem(noted, system));
}

/** Volts that hardly differ move nothing that anybody would write down: less than a hundredth. */
const isToldApart = (brought: Written, after: Written): boolean =>
  Math.abs(brought.value - after.value) > 0.01 * Math.abs(after.value);

function whyWords({ compared, brought, after }: ComparedRow, system: UnitSystem): string {
  const { verdict, why, leastVisible, difference } = compared;
  // Which of the two it is known of stands in its columns.
  if (compared.reason === 'only-in-one') return '';
  if (why !== null) return why;
  if (verdict === 'changed' && brought !== null && after !== null && isToldApart(brought, after)) {
    return `At the same volts it would be ${formatNumber(inSystem(brought, system).value, 4)} after.`;
  }
  if (verdict !== 'no-visible-change' || leastVisible === null || leastVisible === 0 || difference === null) return '';
  const least = inSystem({ value: 0, u: leastVisible, unit: difference.unit }, system);
  return `A change would show from ${formatNumber(least.u ?? 0, 2)} ${least.unit}.`;
}

function differenceWords({ difference }: ComparedRow['compared'], system: UnitSystem): string {
  if (difference === null) return '';
  const { value, u, unit } = difference;
  return `${value > 0 ? '+' : ''}${figureWords({ value, u, unit }, system)}`;
}

/** The texts of a row, the same on the screen and on paper. */
export function rowWords(row: ComparedRow, system: UnitSystem): RowWords {
  const { compared, before, after, absent } = row;
  const written = before ?? after;
  const unit = written === null ? compared.unit : inSystem(written, system).unit;
  return {
    name: unit === '' || unit === 'turns' ? compared.quantity : `${compared.quantity}, ${unit}`,
    before: absent[0] ? notOnIt : figureWords(before, system),
    after: absent[1] ? notOnIt : figureWords(after, system),
    difference: differenceWords(compared, system),
    verdict: compared.reason === 'only-in-one' ? 'on one only' : verdictWords[compared.verdict],
    why: whyWords(row, system),
  };
}
