import type { PlanGround } from '../../src-shared/record/plan-stale.ts';
import type { Store } from './store.ts';

/** What plans of a build can stand on, as the record has it now. */
export function groundOf(store: Pick<Store, 'cores' | 'builds' | 'results'>, buildId: number): PlanGround {
  const build = store.builds.get(buildId);
  if (build === null) throw new Error(`Build ${buildId} of a plan is not in the record.`);
  return {
    coreHistory: store.cores.history(build.coreId),
    build,
    windingRows: build.windings.flatMap(({ windingId }) => store.builds.windingHistory(windingId)),
    results: store.results.ofBuild(buildId),
  };
}
