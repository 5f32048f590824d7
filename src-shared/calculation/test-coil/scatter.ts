import { combined, type NamedPart, type Propagated } from '../../quantity/combine.ts';
import { takeApart } from '../../quantity/sources.ts';
import type { Bench } from './bench.ts';
import { meanTurns, turnsBy, type Observation } from './observation.ts';

/** Standard uncertainty of ln(mean) as the observations' own scatter shows it (JCGM 100:2008, 4.2.3, weighted). */
function scatterOfMean(bench: Bench, observations: readonly Observation[]): number {
  const { values } = takeApart(bench);
  const mean = meanTurns(values, observations);
  const variance = observations.reduce(
    (sum, each) => sum + each.weight * Math.log(turnsBy(values, each) / mean) ** 2,
    0,
  );
  return Math.sqrt(variance / (observations.length - 1));
}

/**
 * Adds the scatter of the observations to a result that is proportional to their mean, where what was stated cannot
 * explain it: readings given as exact, or readings that disagree. Otherwise the result stays as propagated.
 */
export function withScatter(
  result: Propagated,
  bench: Bench,
  observations: readonly Observation[],
  isConsistent: boolean,
): Propagated {
  if (result.u === null || observations.length < 2 || (isConsistent && result.u > 0)) return result;
  const seen = Math.abs(result.value) * scatterOfMean(bench, observations);
  if (seen < 1e-12 * Math.abs(result.value)) return result;
  const scatter: NamedPart = {
    input: 'scatter of the readings',
    u: seen,
    shape: 'normal',
    dof: observations.length - 1,
  };
  return combined(result.value, [...result.budget, scatter], { rough: result.rough });
}
