import { calculate } from '../../src-shared/calculation/calculate.ts';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { procedureById } from '../../src-shared/procedure/table.ts';
import type { Run } from '../../src-shared/record/run.ts';
import type { Bench } from '../bench/bench.ts';
import type { Clock } from '../bench/clock.ts';
import type { GuardKeeper } from '../bench/guard-keeper.ts';
import type { Log } from '../bench/log.ts';
import { benchFactsOf } from '../bench/bench-facts.ts';
import type { Pairs } from '../bench/pairs.ts';
import type { Points } from '../bench/points.ts';
import { keepAnswer, workOut } from '../bench/run-answer.ts';
import { remembered } from '../bench/remembered.ts';
import { setUpOf } from '../bench/run-material.ts';
import { windingFact } from '../bench/winding-fact.ts';
import type { Services } from '../host/service.ts';
import type { Store } from '../store/store.ts';

interface Parts {
  readonly store: Store;
  readonly clock: Clock;
  readonly guard: GuardKeeper;
  readonly bench: Bench;
  readonly pairs: Pairs;
  readonly points: Points;
  readonly log: Log;
  readonly push: (push: Push) => void;
}

type RunServices = Pick<
  Services,
  | 'run.start'
  | 'run.end'
  | 'run.get'
  | 'run.history'
  | 'run.note'
  | 'value.keep'
  | 'pair.keep'
  | 'pair.withdraw'
  | 'point.keep'
  | 'point.withdraw'
  | 'result.keep'
  | 'result.apply'
  | 'calculate'
>;

const keepsPairs = ({ procedure }: Run): boolean => procedureById(procedure)?.keeps === 'pairs';

/** Answers about runs, what was kept of them and what they come to. */
export function runServices({ store, clock, guard, bench, pairs, points, log, push }: Parts): RunServices {
  const work = remembered(calculate);
  const openRun = (runId: number): Outcome<Run> => {
    const { run } = bench;
    return run?.runId === runId ? done(run) : failed('no-run', 'That run is not open.', { path: 'runId' });
  };
  const knownRun = (runId: number): Outcome<Run> => {
    const run = store.runs.get(runId);
    return run === null ? failed('not-found', `There is no run ${runId}.`, { path: 'runId' }) : done(run);
  };
  const keptChanged = (runId: number) => {
    push({ kind: 'changed', what: 'kept', id: runId });
  };

  return {
    'run.start': () => bench.startRun(),
    'run.end': ({ runId }) => {
      pairs.forget();
      points.forget();
      return bench.endRun(runId);
    },

    'run.get': ({ runId }) => {
      const run = knownRun(runId);
      if (!run.ok) return run;
      const session = store.sessions.get(run.value.sessionId);
      if (session === null) return failed('not-found', `Run ${runId} names a session that is not there.`);
      // What was accepted a moment ago is part of what the run comes to.
      if (bench.run?.runId === runId) bench.flush();
      const isOfPairs = keepsPairs(run.value);
      const worked = isOfPairs ? null : workOut(store, run.value, work);
      return done({
        run: run.value,
        session,
        kept: store.keptPairs.ofRun(runId),
        points: [...store.keptPoints.ofRun(runId)],
        answers: setUpOf(store, run.value)?.answers ?? {},
        events: store.events.ofRun(runId),
        results: store.results.ofRun(runId),
        soFar: worked === null ? pairs.soFar(run.value) : worked.answer,
        besides: [...(worked?.besides ?? [])],
        waitingFor: worked?.waitingFor ?? null,
        towardsNext: isOfPairs ? pairs.towardsNext(runId) : points.towardsNext(runId),
      });
    },
    'run.history': (view) => store.readings.history(view),
    'run.note': ({ runId, text }) => {
      const run = openRun(runId);
      return run.ok ? done(log.event('note', { text }, true)) : run;
    },

    'value.keep': ({ runId, coilTurns }) => {
      const run = openRun(runId);
      if (!run.ok) return run;
      const kept = pairs.keepValue(run.value, coilTurns);
      if (kept.ok) keptChanged(runId);
      return kept;
    },
    'pair.keep': ({ runId, coilTurns, swapped }) => {
      const run = openRun(runId);
      if (!run.ok) return run;
      const kept = pairs.keepPair(run.value, coilTurns, swapped);
      if (kept.ok) keptChanged(runId);
      return kept;
    },
    'pair.withdraw': ({ runId, eventId, reason }) => {
      const pair = store.keptPairs.ofRun(runId).find((one) => one.eventId === eventId);
      if (pair === undefined) return failed('not-found', 'There is no such pair in this run.', { path: 'eventId' });
      const withdrawn = store.keptPairs.withdraw(eventId, clock.monoMs(), reason);
      if (!withdrawn.ok) return withdrawn;
      keptChanged(runId);
      return done({});
    },

    'point.keep': ({ runId, fields }) => {
      const run = openRun(runId);
      if (!run.ok) return run;
      const kept = points.keep(run.value, fields, store.sessions.current()?.fields.who ?? '');
      if (!kept.ok) return kept;
      keptChanged(runId);
      return done({ kept: [...kept.value.kept], point: kept.value.point });
    },
    'point.withdraw': ({ runId, eventId, reason }) => {
      const withdrawn = store.keptPoints.withdraw(runId, eventId, clock.monoMs(), reason);
      if (!withdrawn.ok) return withdrawn;
      keptChanged(runId);
      return done({});
    },

    'result.keep': ({ runId }) => {
      const run = knownRun(runId);
      if (!run.ok) return run;
      const kept = keepsPairs(run.value) ? pairs.keepResult(run.value) : keepAnswer(store, run.value, work);
      if (kept.ok) push({ kind: 'changed', what: 'result', id: kept.value.resultId });
      return kept;
    },

    'result.apply': ({ resultId, windingId }) => {
      const result = store.results.get(resultId);
      if (result === null) return failed('not-found', `There is no result ${resultId}.`, { path: 'resultId' });
      const build = store.builds.ofWinding(windingId);
      const winding = build?.windings.find((one) => one.windingId === windingId);
      if (build === null || winding === undefined || build.buildId !== result.buildId) {
        return failed('not-found', 'That winding is not of the build that the result was measured on.', {
          path: 'windingId',
        });
      }
      const fact = windingFact(result);
      if (fact === null) {
        return failed(
          'calculation-refused',
          'The result is no fact of a winding with a known uncertainty: nothing was put on it.',
        );
      }
      const revised = store.builds.reviseWinding(windingId, fact.reason, { ...winding.fields, ...fact.fields });
      if (!revised.ok) return revised;
      push({ kind: 'changed', what: 'build', id: build.buildId });
      const session = store.sessions.current();
      if (session?.fields.buildId === build.buildId) {
        guard.apply({ kind: 'bench-described', atMs: clock.monoMs(), bench: benchFactsOf(store, session) });
      }
      return done({ windingId });
    },

    calculate: ({ name, input }) => done(calculate(name, input)),
  };
}
