import type { PlanFields } from './plan.ts';

/** Numbers of the windings that come off by a plan, as its form held them; null where the form did not ask. */
export function windingsOff({ asked }: Pick<PlanFields, 'asked'>): ReadonlySet<number> | null {
  const off = asked.whole['off'];
  return typeof off === 'string' ? new Set(off.split(' ').filter(Boolean).map(Number)) : null;
}
