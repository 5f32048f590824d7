import { awaitsCooling } from './cooling-start.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';

/** What the middle of the bench is for. */
type Stage = 'set-up' | 'prove' | 'readings';

/** The parts of the bench that an address can name. */
const stageOfPart = (part: string | null): Stage | null =>
  part === 'set-up' || part === 'prove' || part === 'readings' ? part : null;

/** The build that an address brings to the bench: `build-12`; null when it names none. */
export function buildOfPart(part: string | null): number | null {
  const found = /^build-([1-9]\d{0,14})$/.exec(part ?? '');
  return found?.[1] === undefined ? null : Number(found[1]);
}

/** What the guard's state calls for: set up first, prove what is not proved, then read; after power the result stays in view. */
function naturalStage(state: GuardState): Stage {
  if (state.setUp === null) return 'set-up';
  return state.kind === 'unproved' && !awaitsCooling(state) ? 'prove' : 'readings';
}

/** What is shown: the part that was asked for, except that power on always shows the readings. */
export function stageFor(state: GuardState, part: string | null): Stage {
  if (state.kind === 'live' || state.kind === 'tripped') return 'readings';
  if (state.setUp === null) return 'set-up';
  return stageOfPart(part) ?? naturalStage(state);
}
