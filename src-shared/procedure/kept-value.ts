import { effectiveDegreesOfFreedom } from '../quantity/coverage.ts';
import type { Estimate } from '../quantity/estimate.ts';
import type { KeptPair, KeptValue } from '../record/run.ts';

/** A recorded number with how far its description trusts it; `estimate` null when that is not known. */
export interface KeptReading {
  readonly readingId: number;
  readonly value: number;
  readonly estimate: Estimate | null;
  readonly rangeIndex: number | null;
  readonly bottomOfRange: boolean;
}

/** A scatter under a millionth of the reading's own part is the rounding of sums. */
const scatterThatCounts = 1e-6;

type Source = Pick<KeptValue, 'channel' | 'unit' | 'meterId'>;

/**
 * The mean of the readings of a settled stretch, as an estimate.
 *
 * Its own part is that of one reading (rounding and offset do not shrink by repeating) together with the scatter of the
 * mean, s / sqrt(n), with n - 1 degrees of freedom (JCGM 100:2008, 4.2.3 and G.4.1). The shared part, the meter's gain on
 * the range, is that of one reading at the mean. `readings` holds at least one.
 */
export function keptValue(readings: readonly KeptReading[], source: Source): KeptValue {
  const n = readings.length;
  const mean = readings.reduce((sum, { value }) => sum + value, 0) / n;
  const variance = n < 2 ? 0 : readings.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / (n - 1);
  const scatter = Math.sqrt(variance / n);
  const last = readings.at(-1);
  const estimate = last?.estimate ?? null;
  const own = estimate?.u ?? null;
  const ranges = new Set(readings.map(({ rangeIndex }) => rangeIndex));
  const shared = estimate?.shared;
  const dof =
    own === null || scatter < scatterThatCounts * own
      ? Infinity
      : effectiveDegreesOfFreedom([
          { u: own, shape: 'normal', dof: estimate?.dof ?? Infinity },
          { u: scatter, shape: 'normal', dof: n - 1 },
        ]);
  return {
    ...source,
    value: mean,
    u: own === null ? null : Math.hypot(own, scatter),
    // A scatter that cannot be seen beside it leaves the shape of one reading; else the sum is nearly normal.
    shape: own !== null && scatter < own / 5 ? (estimate?.shape ?? 'normal') : 'normal',
    dof: Number.isFinite(dof) ? dof : null,
    shared: shared === undefined ? null : { id: shared.id, u: shared.u },
    readingIds: readings.map(({ readingId }) => readingId),
    rangeIndex: ranges.size === 1 ? (last?.rangeIndex ?? null) : null,
    bottomOfRange: readings.some(({ bottomOfRange }) => bottomOfRange),
  };
}

/**
 * The middle of two values of one channel read before and after another one, so that steady drift drops out
 * (common practice, no source). The difference counts as doubt: half of it, rectangular.
 */
export function betweenValues(
  before: KeptValue,
  after: KeptValue,
): { readonly value: KeptValue; readonly driftVolts: number } {
  const drift = after.value - before.value;
  const u =
    before.u === null || after.u === null ? null : Math.hypot(Math.max(before.u, after.u), drift / 2 / Math.sqrt(3));
  return {
    driftVolts: drift,
    value: {
      ...after,
      value: (before.value + after.value) / 2,
      u,
      readingIds: [...before.readingIds, ...after.readingIds],
      rangeIndex: before.rangeIndex === after.rangeIndex ? after.rangeIndex : null,
      bottomOfRange: before.bottomOfRange || after.bottomOfRange,
    },
  };
}

/** What a kept pair adds to the calculation that the pair itself does not hold: facts of its meters, when known. */
export interface PairFacts {
  readonly coilMeterKind?: 'true-rms' | 'average';
  readonly primaryMeterKind?: 'true-rms' | 'average';
  /** Top of the range that the coil was read on, in V. */
  readonly coilRangeVolts?: number;
}

const inputOf = ({ value, u, shape, dof, shared }: KeptValue) => ({
  value,
  u,
  shape,
  dof,
  ...(shared === null ? {} : { shared }),
});

/** The input of the `test-coil` calculation that kept pairs amount to, withdrawn ones left out; null without any. */
export function testCoilInput(
  pairs: readonly { readonly pair: KeptPair; readonly facts: PairFacts }[],
  hertz: number,
): { readonly readings: readonly unknown[]; readonly hertz: number } | null {
  const standing = pairs.filter(({ pair }) => pair.withdrawn === null);
  if (standing.length === 0) return null;
  return {
    hertz,
    readings: standing.map(({ pair, facts }) => ({
      coilTurns: pair.coilTurns,
      coilVolts: inputOf(pair.coil),
      primaryVolts: inputOf(pair.primary),
      ...(pair.swapped ? { swapped: true } : {}),
      ...facts,
    })),
  };
}
