import { done, failed } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { benchFactsOf } from '../bench/bench-facts.ts';
import type { Bench } from '../bench/bench.ts';
import type { Clock } from '../bench/clock.ts';
import type { GuardKeeper } from '../bench/guard-keeper.ts';
import type { Services } from '../host/service.ts';
import type { Store } from '../store/store.ts';

type CoreServices = Pick<Services, 'core.list' | 'core.get' | 'core.save' | 'build.add' | 'winding.save'>;

const noReason = failed('bad-input', 'A correction needs a reason: say why the earlier entry was wrong.', {
  path: 'reason',
});

interface Parts {
  readonly store: Store;
  readonly clock: Clock;
  readonly guard: GuardKeeper;
  readonly bench: Pick<Bench, 'setUpAgain'>;
  readonly push: (push: Push) => void;
}

/** Answers about cores, their builds and windings. */
export function coreServices({ store, clock, guard, bench, push }: Parts): CoreServices {
  // What stands on the bench is computed anew as soon as the record says otherwise.
  const describeBench = (buildId: number) => {
    const session = store.sessions.current();
    if (session?.fields.buildId !== buildId) return;
    guard.apply({ kind: 'bench-described', atMs: clock.monoMs(), bench: benchFactsOf(store, session) });
    bench.setUpAgain();
  };
  const changed = (coreId: number | null) => {
    push({ kind: 'changed', what: 'core', id: coreId });
  };
  const resultsOf = (coreId: number) =>
    store.builds.listOf(coreId).flatMap(({ buildId }) => store.results.ofBuild(buildId));

  return {
    'core.list': () =>
      done(
        store.cores.list().map((core) => ({
          core,
          builds: store.builds.listOf(core.coreId),
          results: resultsOf(core.coreId),
        })),
      ),

    'core.get': ({ coreId }) => {
      const core = store.cores.get(coreId);
      if (core === null) return failed('not-found', `There is no core ${coreId} on the shelf.`, { path: 'coreId' });
      return done({
        core,
        builds: store.builds.listOf(coreId),
        results: resultsOf(coreId),
        runs: store.runs.ofCore(coreId),
        history: store.cores.history(coreId),
      });
    },

    'core.save': ({ coreId, reason, fields: given }) => {
      // Whether a core is invented is not the page's to say: it was so when the core came, and stays so.
      const { demonstration: _said, ...said } = given;
      const demonstration = coreId === undefined ? undefined : store.cores.get(coreId)?.fields.demonstration;
      const fields = demonstration === undefined ? said : { ...said, demonstration };
      if (coreId === undefined) {
        const added = store.cores.add(fields);
        if (!added.ok) return added;
        changed(added.value.core.coreId);
        return done({ coreId: added.value.core.coreId });
      }
      if (reason === undefined) return noReason;
      const corrected = store.cores.correct(coreId, reason, fields);
      if (!corrected.ok) return corrected;
      changed(coreId);
      return done({ coreId });
    },

    'build.add': ({ coreId, fields, windings }) => {
      const added = store.builds.add(coreId, fields, windings);
      if (!added.ok) return added;
      changed(coreId);
      return done({ buildId: added.value.buildId });
    },

    'winding.save': ({ buildId, windingId, reason, fields }) => {
      const coreId = store.builds.get(buildId)?.coreId ?? null;
      if (windingId === undefined) {
        const added = store.builds.addWinding(buildId, fields);
        if (!added.ok) return added;
        changed(coreId);
        describeBench(buildId);
        return done({ windingId: added.value.windingId });
      }
      if (store.builds.ofWinding(windingId)?.buildId !== buildId) {
        return failed('not-found', `Winding ${windingId} is not of build ${buildId}.`, { path: 'windingId' });
      }
      if (reason === undefined) return noReason;
      const revised = store.builds.reviseWinding(windingId, reason, fields);
      if (!revised.ok) return revised;
      changed(coreId);
      describeBench(buildId);
      return done({ windingId });
    },
  };
}
