import { conductors, type Metal } from '../../../src-shared/calculation/conductor.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { Answer, PhysicalResult } from '../../../src-shared/calculation/answer.ts';
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

/** Surge and fuse for a load current in the primary, with the turns that are added to it; null where the primary's resistance is not known. */
export function surgeAndFuse(
  { primary, turns }: PlanBasis,
  numbers: PlanNumbers,
  primaryAmps: number,
  system: UnitSystem,
): Answer<ResultsOf['inrush-and-fuse']> | null {
  const ohms = primary?.ohms;
  if (ohms === undefined || numbers.primaryVolts === undefined) return null;
  const share = Math.max(0.01, 1 + (numbers.added ?? 0) / (turns?.value ?? Infinity));
  return calculate('inrush-and-fuse', {
    volts: numbers.primaryVolts,
    // House wiring only lowers the surge: without it the figure stays an upper bound.
    supplyOhms: 0,
    primaryOhms: { value: ohms.value * share, u: ohms.u === null ? null : ohms.u * share },
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

/** Current density of one winding under all loads, in A/mm², and its metal. */
interface Loaded {
  readonly density: number;
  readonly metal: Metal;
}

/** Every winding whose current density is known. A primary of unknown metal counts as aluminium, which warms the faster. */
export function loadedWindings(basis: PlanBasis, numbers: PlanNumbers, planned: PlannedAll): readonly Loaded[] {
  const drawn = primaryAmpsOf(planned);
  const metal = basis.primary?.metal === 'copper' ? 'copper' : 'aluminium';
  const primary = primaryDensity(basis, drawn);
  const { added = 0, addedWire } = numbers;
  return [
    ...planned.outputs.flatMap((state) =>
      state.kind === 'done' ? [{ density: state.choice.currentDensity.value, metal: 'copper' as const }] : [],
    ),
    ...(primary === null ? [] : [{ density: primary, metal } as const]),
    ...(added > 0 && addedWire !== undefined
      ? [{ density: drawn / ((Math.PI / 4) * addedWire ** 2), metal: 'copper' as const }]
      : []),
  ];
}

/** K/s at 20 °C with no heat leaving, but for a factor that all share (IEC 60949, adiabatic form). */
const warming = ({ density, metal }: Loaded): number =>
  (conductors[metal].resistivity20 * density ** 2) / conductors[metal].volumeHeatCapacity;

/**
 * How long such a load may stay on, by the rise that was typed, else the predicted one, and by the winding that warms the
 * fastest; null until all is known.
 */
export function dutyOf(
  { rise: typed, minutes, limitRise, onMinutes, offMinutes }: PlanNumbers,
  predicted: PhysicalResult | null,
  windings: readonly Loaded[],
): Answer<ResultsOf['duty']> | null {
  const rise = typed ?? (predicted === null ? undefined : { value: predicted.value, u: predicted.u });
  if (rise === undefined || minutes === undefined || limitRise === undefined) return null;
  const [fastest] = windings.toSorted((one, other) => warming(other) - warming(one));
  return calculate('duty', {
    finalRise: rise,
    timeConstant: minutes * 60,
    limitRise,
    ...(fastest === undefined ? {} : { currentDensity: fastest.density, metal: fastest.metal }),
    ...(onMinutes === undefined ? {} : { onSeconds: onMinutes * 60 }),
    ...(offMinutes === undefined ? {} : { offSeconds: offMinutes * 60 }),
  });
}
