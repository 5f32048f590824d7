import { refuse, type Refusal } from '../answer.ts';
import { lowVolts } from './cautions.ts';
import type { SecondaryInput } from './input.ts';

const mostTurns = 100_000;

/** What goes together and what does not; null when all does. */
export function refusedTogether(given: SecondaryInput): Refusal | null {
  const { loadVolts, primaryTurns, primaryVolts, tongueMm, stackMm, meanTurnMm, over50Confirmed } = given;
  if (meanTurnMm === undefined && tongueMm === undefined) {
    return refuse('missing-key', 'The length of a turn needs tongue and stack, or its own mean.', 'tongueMm');
  }
  if (tongueMm !== undefined && stackMm === undefined)
    return refuse('missing-key', 'The tongue needs the stack.', 'stackMm');
  if (stackMm !== undefined && tongueMm === undefined)
    return refuse('missing-key', 'The stack needs the tongue.', 'tongueMm');
  if (loadVolts.value > lowVolts && !over50Confirmed) {
    return refuse(
      'outside-validity',
      'An output over 50 V a.c. is not planned unless it is confirmed for this build: it needs protection against touch that this program does not judge.',
      'loadVolts',
    );
  }
  if ((loadVolts.value * primaryTurns.value) / primaryVolts.value > mostTurns) {
    return refuse('outside-validity', `More than ${mostTurns} turns are no winding.`, 'loadVolts');
  }
  if (given.marginMm.value * 2 >= given.windowHeightMm.value) {
    return refuse('conflict', 'The margins leave nothing of the window’s height.', 'marginMm');
  }
  if (given.clearanceMm.value + given.baseMm.value >= given.windowWidthMm.value) {
    return refuse('conflict', 'Clearance and base leave nothing of the window’s width.', 'clearanceMm');
  }
  return null;
}
