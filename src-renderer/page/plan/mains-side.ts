import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { Answer, PhysicalResult } from '../../../src-shared/calculation/answer.ts';
import type { SecondaryChoice } from '../../../src-shared/calculation/secondary/choice.ts';
import type { ResultsOf } from '../../../src-shared/calculation/table.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import type { PlanNumbers } from './plan-asked.ts';
import type { PlanBasis } from './plan-record.ts';
import type { PlannedAll } from './planned.ts';

/** What all outputs together draw through the primary, taken as in step, in A. */
export const primaryAmpsOf = ({ outputs }: PlannedAll): number =>
  outputs.reduce((sum, state) => sum + (state.kind === 'done' ? state.results.primaryAmps.value : 0), 0);

/** That current in the wire of the primary, in A/mm²; null where its wire is not known. */
export function primaryDensity({ primary }: PlanBasis, amps: number): number | null {
  const bare = primary?.bareDiameter?.value;
  return bare === undefined ? null : amps / ((Math.PI / 4) * bare ** 2);
}

/** Surge and fuse for a load current in the primary; null where the primary's resistance is not known. */
export function surgeAndFuse(
  { primary }: PlanBasis,
  numbers: PlanNumbers,
  primaryAmps: number,
  system: UnitSystem,
): Answer<ResultsOf['inrush-and-fuse']> | null {
  if (primary?.ohms === undefined || numbers.primaryVolts === undefined) return null;
  return calculate('inrush-and-fuse', {
    volts: numbers.primaryVolts,
    // House wiring only lowers the surge: without it the figure stays an upper bound.
    supplyOhms: 0,
    primaryOhms: primary.ohms,
    ratedAmps: primaryAmps,
    rule: system === 'us' ? 'us-primary-only' : 'common-practice',
  });
}

/** Whether the circuit gives what the primary draws; null where its breaker is not told. */
export function circuitOf(
  { primaryVolts, breaker }: PlanNumbers,
  primaryAmps: number,
  threeHours: boolean,
): Answer<ResultsOf['supply-circuit']> | null {
  if (primaryVolts === undefined || breaker === undefined) return null;
  return calculate('supply-circuit', {
    volts: primaryVolts,
    breakerAmps: breaker,
    continuous: threeHours,
    loads: [{ name: 'this transformer', voltAmperes: primaryVolts * primaryAmps }],
  });
}

/** How long such a load may stay on, by the rise that was typed, else the predicted one; null until all is known. */
export function dutyOf(
  { rise: typed, minutes, limitRise }: PlanNumbers,
  predicted: PhysicalResult | null,
  choice: SecondaryChoice,
): Answer<ResultsOf['duty']> | null {
  const rise = typed ?? (predicted === null ? undefined : { value: predicted.value, u: predicted.u });
  if (rise === undefined || minutes === undefined || limitRise === undefined) return null;
  return calculate('duty', {
    finalRise: rise,
    timeConstant: minutes * 60,
    limitRise,
    currentDensity: choice.currentDensity.value,
    metal: 'copper',
  });
}
