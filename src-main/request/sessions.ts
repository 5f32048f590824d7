import { done, failed } from '../../src-shared/contract/failure.ts';
import { isPowered } from '../../src-shared/interlock/state.ts';
import type { SessionFields } from '../../src-shared/record/session.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { benchFactsOf } from '../bench/bench-facts.ts';
import type { Bench } from '../bench/bench.ts';
import type { Clock } from '../bench/clock.ts';
import type { GuardKeeper } from '../bench/guard-keeper.ts';
import type { Services } from '../host/service.ts';
import type { Store } from '../store/store.ts';

interface Parts {
  readonly store: Store;
  readonly clock: Clock;
  readonly guard: GuardKeeper;
  readonly bench: Bench;
  readonly push: (push: Push) => void;
}

/** Answers about sittings at the bench. The guard belongs to one session, and one is open at a time. */
export function sessionServices({
  store,
  clock,
  guard,
  bench,
  push,
}: Parts): Pick<Services, 'session.open' | 'session.end' | 'session.correct' | 'session.list'> {
  const changed = (id: number) => {
    push({ kind: 'changed', what: 'session', id });
  };
  return {
    'session.open': ({ fields }) => {
      const coreId = store.builds.get(fields.buildId)?.coreId;
      const core = coreId === undefined ? null : store.cores.get(coreId);
      // On an invented core nothing can be measured; on a real one nothing is practised.
      const opened = store.sessions.open(fields, core?.fields.demonstration !== undefined);
      if (!opened.ok) return opened;
      const session = opened.value;
      guard.apply({
        kind: 'session-opened',
        atMs: clock.monoMs(),
        by: fields.who,
        sessionId: session.sessionId,
        practice: session.practice,
        bench: benchFactsOf(store, session),
        coreMagnetised: false,
        builtOrMovedSincePower: true,
      });
      changed(session.sessionId);
      return done(session);
    },

    'session.end': () => {
      const session = store.sessions.current();
      if (session === null) return failed('no-session', 'No session is open.');
      if (bench.run !== null) return failed('run-open', 'A run is open. End it first; its readings are kept.');
      const answer = guard.ask({ kind: 'session-ended', atMs: clock.monoMs(), by: session.fields.who });
      if (!answer.ok) return answer;
      const ended = store.sessions.end(session.sessionId);
      if (!ended.ok) return ended;
      bench.clear();
      changed(session.sessionId);
      return done({});
    },

    'session.correct': ({ sessionId, reason, fields }) => {
      const was = store.sessions.get(sessionId);
      if (was === null) return failed('not-found', `There is no session ${sessionId}.`, { path: 'sessionId' });
      const isOpen = was.endedWallMs === null;
      const feeds = ({ supply, fedWindingId }: SessionFields) => JSON.stringify([supply, fedWindingId]);
      if (isOpen && isPowered(guard.state) && feeds(was.fields) !== feeds(fields)) {
        return failed('guard-refused', 'Power is declared on. Switch off, say so with F8, then correct what feeds it.');
      }
      const corrected = store.sessions.correct(sessionId, reason, fields);
      if (!corrected.ok) return corrected;
      changed(sessionId);
      if (isOpen) {
        guard.apply({ kind: 'bench-described', atMs: clock.monoMs(), bench: benchFactsOf(store, corrected.value) });
        bench.setUpAgain();
      }
      return corrected;
    },

    'session.list': ({ coreId }) => done(store.sessions.list(coreId)),
  };
}
