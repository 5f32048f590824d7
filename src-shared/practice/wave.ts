import type { Period } from './steady-state.ts';

/** What a meter can see of one period of a wave, in the wave's unit. */
export interface WaveFacts {
  /** Effective value. */
  readonly rms: number;
  /** What a meter shows that rectifies, takes the mean, and is scaled for a sine. */
  readonly averageResponding: number;
  readonly peak: number;
}

/** The mean of a rectified sine is this share of its effective value. */
const sineForm = Math.PI / (2 * Math.SQRT2);

/** Measures a period that is sampled evenly. */
export function waveFacts(samples: readonly number[]): WaveFacts {
  const count = samples.length;
  const squares = samples.reduce((sum, x) => sum + x * x, 0);
  const rectified = samples.reduce((sum, x) => sum + Math.abs(x), 0);
  return {
    rms: Math.sqrt(squares / count),
    averageResponding: (rectified / count) * sineForm,
    peak: samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0),
  };
}

/** Mean of the product of two waves sampled at the same instants: watts, of volts and amps. */
export const meanProduct = (one: readonly number[], other: readonly number[]): number =>
  one.reduce((sum, x, index) => sum + x * (other[index] ?? 0), 0) / one.length;

/** Heat that the iron makes over a period, in W. */
export const ironHeat = ({ ironWatts }: Period): number =>
  ironWatts.reduce((sum, watts) => sum + watts, 0) / ironWatts.length;

/** How a meter gets a value from an alternating wave. */
export interface Responding {
  readonly responding: 'true-rms' | 'average' | 'unknown';
  /** Highest crest over the effective value that a true-rms meter follows; the usual one where it is not stated. */
  readonly crestFactor?: number | undefined;
}

/** What most true-rms meters follow. Common practice, no source. */
const usualCrestFactor = 3;

/**
 * What a meter of a kind shows for a wave. A true-rms one reads low above its crest factor, as if the crest were cut off
 * there; an average-responding one is right for a sine only. One of which nobody knows it is taken as true-rms.
 */
export function shownBy(
  { responding, crestFactor = usualCrestFactor }: Responding,
  { rms, averageResponding, peak }: WaveFacts,
): number {
  if (responding === 'average') return averageResponding;
  return peak <= crestFactor * rms ? rms : rms * ((crestFactor * rms) / peak) ** 0.5;
}
