import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';

/** What a core is good for over minutes: the figure where a rule holds, and what it rests on or why there is none. */
export type ShortTermPower =
  | { readonly kind: 'known'; readonly watts: string; readonly basis: string }
  | { readonly kind: 'not-known'; readonly why: string };

const notKnown = (why: string): ShortTermPower => ({ kind: 'not-known', why });

/** The estimate by mass, which holds for welded cores out of appliances, weighed with their windings on. */
export function shortTermPower(fields: CoreFields): ShortTermPower {
  if (fields.fromAppliance !== true) return notKnown('no rule for its kind');
  if (fields.mass === undefined) return notKnown('weigh it');
  if (fields.massIs === 'stripped') return notKnown('weighed stripped: no rule');
  const answer = calculate('core-rating', { massKg: fields.mass, kind: 'welded-appliance' });
  if (!answer.ok || answer.results.shortTermPower === null) return notKnown('no rule for this mass');
  const { shortTermPower: power, shortTermPowerRange: range } = answer.results;
  const isOutside = range !== null && (power.value < range[0] || power.value > range[1]);
  return {
    kind: 'known',
    watts: formatNumber(power.value, 2),
    basis: `for minutes, not hours; by its mass${isOutside ? ', outside what the rule was seen for' : ''}`,
  };
}
