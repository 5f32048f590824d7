import { withSupplyMargin } from '../interlock/bounds.ts';
import { gradeOf, highestVolts, type BenchFacts } from '../interlock/bench.ts';

/** The proposed limits of one kind of test, as far as they do not depend on the bench. Common practice, no source. */
export interface DefaultLimits {
  /** Longest time with power on, in s; null for none. */
  readonly runSeconds: number | null;
  readonly silenceSeconds: number;
  /** How often a typed channel is to be typed, in s. */
  readonly typedSeconds: number;
}

/** By the letters of the checklists. `P`: polarity, as T1. R and I are not powered; their times bound nothing. */
export const defaultLimits = {
  T1: { runSeconds: null, silenceSeconds: 10, typedSeconds: 60 },
  T2: { runSeconds: 60, silenceSeconds: 5, typedSeconds: 60 },
  P: { runSeconds: null, silenceSeconds: 10, typedSeconds: 60 },
  N: { runSeconds: 120, silenceSeconds: 5, typedSeconds: 60 },
  S: { runSeconds: 600, silenceSeconds: 5, typedSeconds: 60 },
  H: { runSeconds: 8 * 3600, silenceSeconds: 30, typedSeconds: 300 },
  L: { runSeconds: 60, silenceSeconds: 5, typedSeconds: 60 },
  X: { runSeconds: 30, silenceSeconds: 5, typedSeconds: 30 },
  K: { runSeconds: 8 * 3600, silenceSeconds: 30, typedSeconds: 300 },
  R: { runSeconds: null, silenceSeconds: 10, typedSeconds: 60 },
} as const satisfies Readonly<Record<string, DefaultLimits>>;

/**
 * The highest volts proposed for a channel that stands at `channelVolts` on this bench, in V: nominal and 10 % above
 * (IEC 60038). While the few checks of low voltage are all that was asked, never so high that the highest winding would
 * pass the touch bound: volts go in proportion.
 */
export function voltsLimit(bench: BenchFacts, channelVolts: number, touchVolts: number): number {
  const nominal = withSupplyMargin(channelVolts);
  const highest = highestVolts(bench);
  if (gradeOf(bench, touchVolts) === 'base' || highest.kind === 'unknown' || highest.volts === 0) return nominal;
  return Math.min(nominal, (channelVolts * touchVolts) / highest.volts);
}
