import { formatNumber } from '../../quantity/format.ts';
import { propagate } from '../../quantity/propagate.ts';
import { physical, refuse, type PhysicalResult, type Refusal } from '../answer.ts';
import { emfConstant } from '../flux-density.ts';
import { ironOf, netArea } from '../iron.ts';
import type { SecondaryInput } from './input.ts';

/** Above this in unknown steel long runs are hot ones: common practice, no source. */
export const longRunTesla = 1.4;

interface Flux {
  readonly ok: true;
  /** Null without hertz or iron. */
  readonly peak: PhysicalResult | null;
}

/** Peak flux density at the nominal line; refused above the ceiling, with the turns that would keep it. */
export function fluxOf(given: SecondaryInput): Flux | Refusal {
  const { hertz, primaryVolts, primaryTurns, tongueMm, stackMm, mostTesla } = given;
  if (given.ironAreaMm2 === undefined && given.stackingFactor !== undefined && tongueMm === undefined) {
    return refuse('missing-key', 'The stacking factor needs tongue and stack.', 'tongueMm');
  }
  const isStack = given.ironAreaMm2 === undefined && tongueMm !== undefined && stackMm !== undefined;
  if (hertz === undefined || (given.ironAreaMm2 === undefined && !isStack)) return { ok: true, peak: null };
  const iron = ironOf(given.ironAreaMm2 === undefined ? given : { ironAreaMm2: given.ironAreaMm2 });
  if (!iron.ok) return iron;
  const tree = { hertz, primaryVolts, primaryTurns, iron: iron.factors };
  const peak = propagate(
    tree,
    (each) => (1e6 * each.primaryVolts) / (emfConstant * each.hertz * each.primaryTurns * netArea(each.iron)),
  );
  if (peak.value > mostTesla) {
    const turns = Math.ceil((primaryTurns.value * peak.value) / mostTesla);
    return refuse(
      'outside-validity',
      `The core would run at ${formatNumber(peak.value, 3)} T, above the ceiling of ${mostTesla} T: ` +
        `it wants ${turns} primary turns on these volts, or another ceiling that you answer for.`,
      'primaryTurns',
    );
  }
  return { ok: true, peak: physical('T', peak) };
}
