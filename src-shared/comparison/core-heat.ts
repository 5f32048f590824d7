import * as v from 'valibot';
import type { Result, Run } from '../record/run.ts';

const finite = v.pipe(v.number(), v.finite());
const Figure = v.looseObject({ value: finite, u: v.nullable(finite) });
const Heat = v.looseObject({ results: v.looseObject({ finalRise: Figure, timeConstant: Figure }) });

/** A figure with its standard uncertainty; null where nobody knows it. */
interface Known {
  readonly value: number;
  readonly u: number | null;
}

const figure = ({ value, u }: Known): Known => ({ value, u });

/** Where the core of a build ended in a heat run, or in a loaded run that went on. */
export interface CoreHeat {
  readonly result: Result;
  readonly run: Run;
  /** In K. */
  readonly rise: Known;
  /** In s. */
  readonly timeConstant: Known;
}

/**
 * The newest heat of the core of a build by runs of one procedure; null without one. What is found in one act is kept one
 * behind the other: of a heat run the core last; of a loaded run the core, and behind it the winding where that was read.
 */
export function coreHeat(
  { results, runs }: { readonly results: readonly Result[]; readonly runs: readonly Run[] },
  buildId: number,
  procedure: 'heat-run' | 'loaded-run',
): CoreHeat | null {
  const ofBuild = results
    .filter((result) => result.buildId === buildId)
    .sort((one, other) => one.resultId - other.resultId);
  const heats = ofBuild.flatMap((result): readonly CoreHeat[] => {
    const run = runs.find(({ runId }) => runId === result.runId);
    if (result.calculation !== 'heat-run' || run?.procedure !== procedure) return [];
    if (!run.channels.some(({ channel }) => channel === 'core-temperature')) return [];
    const read = v.safeParse(Heat, result.output);
    if (!read.success) return [];
    const { finalRise, timeConstant } = read.output.results;
    return [{ result, run, rise: figure(finalRise), timeConstant: figure(timeConstant) }];
  });
  const last = heats.at(-1);
  if (last === undefined || procedure === 'heat-run') return last ?? null;
  const ofRun = heats.filter(({ run }) => run === last.run);
  const acts = ofBuild.filter(({ runId, calculation }) => runId === last.run.runId && calculation === procedure).length;
  return ofRun.at(-Math.round(ofRun.length / Math.max(1, acts))) ?? last;
}
