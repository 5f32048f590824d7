import { same } from './on-session.ts';
import type { GuardState } from './state.ts';

/** What a person's command rests on: the state without its count and without what the program noticed by itself. */
function forThePerson({
  revision: _revision,
  watch: _watch,
  alarms: _alarms,
  lapsed: _lapsed,
  checks,
  ...rest
}: GuardState) {
  return { ...rest, checks: Object.entries(checks).filter(([, mark]) => mark.how !== 'program') };
}

/**
 * Whether two states ask the same of the person: they differ at most in what the program noticed by itself, such as an
 * alarm, or a check that it ticks or takes back because of what a meter sends.
 */
export const asksTheSame = (one: GuardState, other: GuardState): boolean =>
  same(forThePerson(one), forThePerson(other));
