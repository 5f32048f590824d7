import type { Written } from '../quantity/format.ts';

/** Whether an outcome is what was predicted. */
export type OutcomeVerdict = 'as-predicted' | 'within-doubt' | 'not-as-predicted' | 'cannot-tell' | 'not-measured';

/** A figure that was predicted beside what came of it; null where it was not measured. */
export interface PredictedRow {
  readonly name: string;
  readonly predicted: Written;
  /** The 95 % interval of the prediction; null where nobody knows its doubt. */
  readonly interval: readonly [number, number] | null;
  readonly outcome: Written | null;
  readonly kind: OutcomeVerdict;
  /** The same in words. */
  readonly verdict: string;
  /** What it was predicted from. */
  readonly from: string;
}

/** A figure that was predicted; the interval where it is not the usual one. */
interface Predicted {
  readonly value: number;
  readonly u: number | null;
  readonly interval95?: readonly [number, number] | null;
}

const words: Readonly<Record<OutcomeVerdict, string>> = {
  'as-predicted': 'within the predicted interval',
  'within-doubt': 'outside the predicted interval, by less than the reading can tell',
  'not-as-predicted': 'not as predicted',
  'cannot-tell': 'nobody knows how sure it was',
  'not-measured': 'not measured',
};

/** Two standard uncertainties: about 95 % of a normal distribution (JCGM 100:2008, G.1.3). */
const coverage = 2;

const intervalOf = ({ value, u, interval95 }: Predicted): readonly [number, number] | null =>
  interval95 ?? (u === null ? null : [value - coverage * u, value + coverage * u]);

function verdictOf(predicted: Predicted, outcome: Written | null): OutcomeVerdict {
  const interval = intervalOf(predicted);
  if (outcome === null) return 'not-measured';
  if (interval === null) return 'cannot-tell';
  const [low, high] = interval;
  if (outcome.value >= low && outcome.value <= high) return 'as-predicted';
  const off = Math.abs(outcome.value - predicted.value);
  const both = Math.hypot((high - low) / 2, coverage * (outcome.u ?? 0));
  return outcome.u === null || off <= both ? 'within-doubt' : 'not-as-predicted';
}

/** A figure that was predicted, `from` what, held against what was measured. */
export function predictedRow(
  name: string,
  unit: string,
  predicted: Predicted,
  outcome: Written | null,
  from: string,
): PredictedRow {
  const kind = verdictOf(predicted, outcome);
  const { value, u } = predicted;
  const interval = intervalOf(predicted);
  return { name, predicted: { value, u, unit }, interval, outcome, kind, verdict: words[kind], from };
}
