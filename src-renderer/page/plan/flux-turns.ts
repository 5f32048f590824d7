import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { PlanNumbers } from './plan-asked.ts';
import type { PlanBasis } from './plan-record.ts';

/** Primary turns that keep the flux under its ceiling. */
export interface FluxTurns {
  /** Whole turns, besides those that are added already. */
  readonly more: number;
  /** Added ones with these. */
  readonly added: number;
  /** All turns of the primary then. */
  readonly all: number;
}

/**
 * Fewest whole turns that bring the flux of a plan under its ceiling, by `flux-density`; null where it is under it already,
 * or where turns, iron, volts or ceiling are not known.
 */
export function fluxTurns({ core, turns }: PlanBasis, numbers: PlanNumbers, hertz: 50 | 60): FluxTurns | null {
  const { primaryVolts, tesla, added = 0 } = numbers;
  if (turns === null || core.tongue === undefined || core.stack === undefined) return null;
  if (primaryVolts === undefined || tesla === undefined || !(turns.value + added > 0)) return null;
  const answer = calculate('flux-density', {
    volts: primaryVolts,
    hertz,
    turns: { ...turns, value: turns.value + added },
    tongueMm: core.tongue,
    stackMm: core.stack,
    ...(core.stackingFactor === undefined ? {} : { stackingFactor: core.stackingFactor }),
    targetTesla: tesla,
  });
  const wanted = answer.ok ? answer.results.turnsForTarget : undefined;
  if (wanted === undefined || wanted.value <= turns.value + added) return null;
  const more = Math.ceil(wanted.value - turns.value - added);
  return { more, added: added + more, all: turns.value + added + more };
}
