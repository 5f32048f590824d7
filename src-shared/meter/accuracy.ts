import type { Estimate } from '../quantity/estimate.ts';
import type { Correction } from './correction.ts';
import type { ShownValue } from './channel-reading.ts';
import type { MeterDescription } from './description.ts';
import type { MeterRange } from './range.ts';
import type { Coupling, MeterUnit } from './unit.ts';

/** Why a description cannot tell how good a reading is. */
export const noAccuracyReasons = {
  'no-ranges': 'The meter is described without accuracy for this unit.',
  'coupling-unknown': 'The meter has a.c. and d.c. ranges, and the reading does not say which it is.',
  'above-ranges': 'The reading is above the top of every range that is described.',
  'above-locked-range': 'The reading is above the top of the range that is locked.',
  'locked-elsewhere': 'The range that is locked is not one of this unit.',
} as const satisfies Record<string, string>;
export type NoAccuracyReason = keyof typeof noAccuracyReasons;

/** How the range was found: locked by the person, told by the last digit, or the smallest that holds the value. */
export type RangeFound = 'locked' | 'last-digit' | 'size';

export interface ReadingToJudge {
  readonly value: number;
  readonly unit: MeterUnit;
  readonly coupling?: Coupling;
  readonly resolution: number;
  readonly shown?: ShownValue;
}

export type Judged =
  | {
      readonly kind: 'judged';
      readonly estimate: Estimate;
      /** Both parts together: the standard uncertainty of the reading, in its unit. */
      readonly u: number;
      readonly rangeIndex: number;
      readonly found: RangeFound;
      /** The stated correction that is in the value; null when there is none for the range. */
      readonly correction: Correction | null;
      /** Under 5 % of the range, where a.c. ranges are poor: ask for more turns or a lower range. */
      readonly bottomOfRange: boolean;
    }
  | { readonly kind: 'unknown'; readonly u: null; readonly why: NoAccuracyReason; readonly sentence: string };

type Found = { readonly index: number; readonly range: MeterRange };
type Choice = { readonly ok: true; readonly found: RangeFound } & Found;

const bottomShare = 0.05;
/** Half-width to standard uncertainty: JCGM 100:2008, 4.3.7 (rectangular) and 4.3.3 (two standard deviations). */
const divisor = { rectangular: Math.sqrt(3), 'normal-k2': 2 } as const;

const fits = (range: MeterRange, unit: MeterUnit, coupling: Coupling | undefined): boolean =>
  range.unit === unit && (range.coupling === null || coupling === undefined || range.coupling === coupling);

const isClose = (one: number, other: number): boolean => Math.abs(one - other) <= 1e-6 * Math.abs(other);

/** Finds the range a reading was taken on. A locked range is believed; without one the last digit tells, else the size. */
function chooseRange(
  ranges: readonly MeterRange[],
  shown: ShownValue,
  coupling: Coupling | undefined,
  locked: number | null,
): Choice | { readonly ok: false; readonly why: NoAccuracyReason } {
  const suitable = ranges
    .map((range, index) => ({ range, index }))
    .filter(({ range }) => fits(range, shown.unit, coupling));
  if (locked !== null) {
    const found = suitable.find(({ index }) => index === locked);
    if (found === undefined) return { ok: false, why: 'locked-elsewhere' };
    if (Math.abs(shown.value) > found.range.top) return { ok: false, why: 'above-locked-range' };
    return { ok: true, found: 'locked', ...found };
  }
  if (suitable.length === 0) return { ok: false, why: 'no-ranges' };
  if (new Set(suitable.map(({ range }) => range.coupling)).size > 1) return { ok: false, why: 'coupling-unknown' };
  const holding = suitable
    .filter(({ range }) => Math.abs(shown.value) <= range.top)
    .sort((one, other) => one.range.top - other.range.top);
  const [smallest] = holding;
  if (smallest === undefined) return { ok: false, why: 'above-ranges' };
  const told = holding.find(({ range }) => isClose(range.resolution, shown.resolution));
  return told === undefined ? { ok: true, found: 'size', ...smallest } : { ok: true, found: 'last-digit', ...told };
}

/**
 * How far a reading can be trusted by its meter's description, or why that is not known (`u` null, never 0).
 *
 * A statement of plus or minus (p % of reading + n digits) bounds the whole error by one half-width `a`: rectangular
 * gives a / sqrt(3) (JCGM 100:2008, 4.3.7, example 2), normal with k = 2 gives a / 2 (4.3.3). Of that whole,
 *
 * - the percentage is the meter's gain on that range. It stays what it is from one reading to the next, so it is the
 *   estimate's shared part, fully correlated between all readings of one meter on one range (id: meter and range): in
 *   their ratio it cancels, in their mean it does not shrink. Between two ranges, each with its own divider and
 *   adjustment, nothing is taken as shared. A scale factor's own percentage is added to it.
 * - the rest (rounding, noise, offset: the digits, never less than half a step of the last digit) is the reading's own
 *   part, taken so that both parts in quadrature give the whole. It is a little more than the digits alone: the
 *   statement does not say how the two divide it, and in a ratio this errs on the side of doubt.
 *
 * A stated correction of the range is in the value, and its own doubt in the shared part: it came from one check, so it
 * is the same for every reading of the range.
 *
 * `locked` is the index of the locked range; null while the meter chooses by itself.
 */
export function judge(
  meterId: number,
  description: Pick<MeterDescription, 'ranges' | 'scales' | 'corrections'>,
  reading: ReadingToJudge,
  locked: number | null,
): Judged {
  const shown = reading.shown ?? reading;
  const choice = chooseRange(description.ranges, shown, reading.coupling, locked);
  if (!choice.ok) return { kind: 'unknown', u: null, why: choice.why, sentence: noAccuracyReasons[choice.why] };
  const { range, index } = choice;
  const scale = reading.shown === undefined ? undefined : description.scales.find(({ unit }) => unit === shown.unit);
  const correction = description.corrections?.find(({ rangeIndex }) => rangeIndex === index) ?? null;
  const value = reading.value * (correction?.factor ?? 1);
  const size = Math.abs(value);
  // Scale factor and passes through a clamp together: one step of the last digit tells by how much.
  const factor = reading.resolution / shown.resolution;
  // What a check found out stands in the place of what the sheet allows.
  const gain = correction === null ? (range.percentOfReading / 100) * size : 0;
  const checkedGain = ((correction?.percent ?? 0) / 100) * size;
  const digits = Math.max(range.digits * range.resolution, shown.resolution / 2, range.resolution / 2) * factor;
  const own = Math.sqrt(digits * (digits + 2 * gain)) / divisor[range.shape];
  const scaleGain = ((scale?.percent ?? 0) / 100) * size;
  const sharedU = Math.hypot(gain / divisor[range.shape], scaleGain / divisor.rectangular, checkedGain);
  return {
    kind: 'judged',
    estimate: {
      value,
      u: own,
      shape: range.shape === 'rectangular' ? 'rectangular' : 'normal',
      dof: Infinity,
      ...(sharedU > 0 ? { shared: { id: `meter ${meterId} range ${index}`, u: sharedU } } : {}),
    },
    u: Math.hypot(own, sharedU),
    rangeIndex: index,
    found: choice.found,
    correction,
    bottomOfRange: Math.abs(shown.value) < bottomShare * range.top,
  };
}
