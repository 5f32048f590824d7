/** One number on a channel at one time, with what its meter's description allows it to be off. */
export interface Sample {
  readonly atMs: number;
  readonly value: number;
  /** Standard uncertainty of the reading by its description; null when that is not known. */
  readonly u: number | null;
  /** One step of the last digit, in the value's unit. */
  readonly resolution: number;
}

/** Whether the last values of a channel have settled. */
export type Settled =
  | { readonly kind: 'settled'; readonly seconds: number; readonly from: number; readonly allowed: number }
  | { readonly kind: 'waiting'; readonly seconds: number; readonly needSeconds: number }
  | { readonly kind: 'moving'; readonly by: number; readonly allowed: number }
  | { readonly kind: 'nothing' };

/** A value must have stood still for this long, over at least so many readings, before it is called settled. */
const settledAfterMs = 3000;
const fewestReadings = 4;
/** Readings older than this never count towards a value. */
export const settledWithinMs = 15_000;

/**
 * How far a settled value may wander: twice the standard uncertainty that the meter's description gives it, and never
 * less than two steps of its last digit. Where the description gives none: half a per cent.
 */
const allowance = ({ value, u, resolution }: Sample): number =>
  Math.max(2 * (u ?? Math.abs(value) / 400), 2 * resolution);

/**
 * Judges the last readings of a channel, oldest first.
 *
 * The rule: going back from the newest reading, as long as highest minus lowest, and the rise of a straight line through
 * them over their span, both stay inside the meter's own error, the readings belong to one settled stretch. It is
 * settled when the stretch is 3 s long and holds at least four readings. `from` is the index of its first reading.
 * Common practice, no source.
 */
export function judgeSettled(samples: readonly Sample[], nowMs: number): Settled {
  const newest = samples.at(-1);
  if (newest === undefined || nowMs - newest.atMs > settledWithinMs) return { kind: 'nothing' };
  const allowed = allowance(newest);
  let [lowest, highest, from] = [newest.value, newest.value, samples.length - 1];
  for (let index = samples.length - 2; index >= 0; index -= 1) {
    const sample = samples[index];
    if (sample === undefined || nowMs - sample.atMs > settledWithinMs) break;
    lowest = Math.min(lowest, sample.value);
    highest = Math.max(highest, sample.value);
    if (highest - lowest > allowed) break;
    from = index;
  }
  const stretch = samples.slice(from);
  const spanMs = newest.atMs - (stretch[0]?.atMs ?? newest.atMs);
  const rise = Math.abs(slopePerMs(stretch) * spanMs);
  if (spanMs >= settledAfterMs && stretch.length >= fewestReadings) {
    return rise <= allowed
      ? { kind: 'settled', seconds: spanMs / 1000, from, allowed }
      : { kind: 'moving', by: rise, allowed };
  }
  const isCut = from > 0 && nowMs - (samples[from - 1]?.atMs ?? 0) <= settledAfterMs;
  return isCut
    ? { kind: 'moving', by: highest - lowest, allowed }
    : { kind: 'waiting', seconds: spanMs / 1000, needSeconds: settledAfterMs / 1000 };
}

/** Least-squares slope in units a millisecond; 0 for fewer than two instants. */
function slopePerMs(samples: readonly Sample[]): number {
  const n = samples.length;
  if (n < 2) return 0;
  const meanAt = samples.reduce((sum, { atMs }) => sum + atMs, 0) / n;
  const mean = samples.reduce((sum, { value }) => sum + value, 0) / n;
  const spread = samples.reduce((sum, { atMs }) => sum + (atMs - meanAt) ** 2, 0);
  if (spread === 0) return 0;
  return samples.reduce((sum, { atMs, value }) => sum + (atMs - meanAt) * (value - mean), 0) / spread;
}
