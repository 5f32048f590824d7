import type { Result } from '../record/run.ts';
import { voltsOf } from './side.ts';

/** Volts that are this near are as good as equal; then the newer result is taken. */
const alike = 0.005;

/**
 * Of the no-load results of one build the one nearest to the volts in question, the newest of those that are as good as
 * there: a sweep leaves many, and neither its highest nor its last point is what the line does. Undefined without any.
 */
export function noLoadNear(results: readonly Result[], volts: number): Result | undefined {
  const apart = (result: Result): number => {
    const far = Math.abs((voltsOf(result) ?? Infinity) / volts - 1);
    return far <= alike ? 0 : far;
  };
  return results
    .filter(({ calculation }) => calculation === 'no-load')
    .toSorted((one, other) => apart(one) - apart(other) || other.resultId - one.resultId)[0];
}
