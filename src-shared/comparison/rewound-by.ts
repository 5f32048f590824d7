import { primaryOf, turnsNumber } from '../record/primary.ts';
import type { BuildRecord } from './build-record.ts';

/**
 * How many turns more the primary of the build after has than `turns`: what was said to be added since, else the difference
 * of its turns as they stand. Null where its turns are not known.
 */
export function rewoundBy(before: BuildRecord, after: BuildRecord, turns: number): number | null {
  const now = primaryOf(after.build);
  const known = turnsNumber(now);
  if (known === null) return null;
  const isNext = after.build.number === before.build.number + 1;
  const said = now?.fields.turnsAdded;
  if (isNext && said !== undefined) return said;
  // Estimates of one winding differ by parts of a turn: that is no other winding.
  return Math.round(2 * (known - turns)) / 2;
}
