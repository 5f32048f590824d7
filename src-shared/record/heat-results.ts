import type { Result } from './run.ts';

/** Runs of a load: what they tell of heat is that of the load. */
const loadedRuns = (results: readonly Result[]): ReadonlySet<number | null> =>
  new Set(results.filter(({ calculation }) => calculation === 'loaded-run').map(({ runId }) => runId));

/**
 * The newest result of a heat run at no load among those of one build, oldest first: of the core, which is kept last in its
 * act. What a loaded run tells of heat is none, however new it is. Undefined without one.
 */
export function noLoadHeat(results: readonly Result[]): Result | undefined {
  const loaded = loadedRuns(results);
  return results.findLast(
    ({ calculation, runId }) => calculation === 'heat-run' && (runId === null || !loaded.has(runId)),
  );
}
