import type { ExcitationInput } from './input.ts';
import { modelOf, primaryWith, workingPoint, type Plans, type TreeValues } from './model.ts';

/** More turns than so many times the primary's, or than so many, are not looked at. */
const mostTimes = 9;
const mostTurns = 5000;

/** The fewest whole number of added turns that keeps every limit by its value; null where none does. */
export function fewestAddedTurns(
  nominal: TreeValues,
  plans: Plans,
  limits: NonNullable<ExcitationInput['limits']>,
): number | null {
  const model = modelOf(nominal, plans);
  const { primaryTurns, supplyVolts } = nominal;
  const { amps = Infinity, watts = Infinity, tesla = Infinity } = limits;
  const most = Math.min(mostTurns, Math.ceil(mostTimes * primaryTurns));
  for (let added = 0; added <= most; added += 1) {
    const at = workingPoint(model, primaryWith(nominal, added), supplyVolts);
    const keepsTesla = tesla === Infinity || at.tesla <= tesla;
    const keepsWatts = watts === Infinity || at.watts <= watts;
    if (at.amps <= amps && keepsWatts && keepsTesla) return added;
  }
  return null;
}
