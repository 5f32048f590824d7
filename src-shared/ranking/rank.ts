import type { CoreFacts } from './core-facts.ts';
import type { Demand } from './demand.ts';
import { judge, standings, type Verdict } from './verdict.ts';

/** Two figures that differ by less are alike: no order hangs on how a unit was rounded. */
const digits = 9;
const rounded = (value: number): number => Number(value.toPrecision(digits));

/** What cores of one standing are ordered by, each smaller first. */
function within({ standing, size, tightest, missing }: Verdict): readonly number[] {
  const kg = size === null ? Infinity : rounded(size.kg);
  switch (standing) {
    // The smallest that will do it; of two alike, the one of which more is known, then the one with more to spare.
    case 'will-do':
    case 'as-far-as-known':
      return [kg, missing.length, rounded(tightest)];
    case 'not-known':
      return [missing.length, kg];
    // The one that is nearest to doing it.
    case 'minutes':
    case 'will-not':
      return [rounded(tightest), kg];
  }
}

function compare(one: readonly number[], other: readonly number[]): number {
  for (const [at, value] of one.entries()) {
    const against = other[at] ?? value;
    if (value !== against) return value < against ? -1 : 1;
  }
  return 0;
}

/** Best first; what is alike in everything stands in the order in which it came to the shelf. */
const inOrder = (verdicts: readonly Verdict[]): readonly Verdict[] =>
  verdicts.toSorted((one, other) => {
    const standing = standings.indexOf(one.standing) - standings.indexOf(other.standing);
    return standing || compare(within(one), within(other)) || one.coreId - other.coreId;
  });

/** The shelf ranked for a need: the smallest core that will do it first. */
export const rankFacts = (facts: readonly CoreFacts[], demand: Demand): readonly Verdict[] =>
  inOrder(facts.map((each) => judge(each, demand)));
