import { done } from '../../src-shared/contract/failure.ts';
import type { Bench } from '../bench/bench.ts';
import type { Clock } from '../bench/clock.ts';
import type { GuardKeeper } from '../bench/guard-keeper.ts';
import type { MeterStates } from '../bench/meter-states.ts';
import type { Services } from '../host/service.ts';
import type { Store } from '../store/store.ts';
import { meterWhole } from './meters.ts';

interface Parts {
  readonly store: Store;
  readonly clock: Clock;
  readonly guard: GuardKeeper;
  readonly bench: Bench;
  readonly states: MeterStates;
  readonly version: string;
  readonly warning: string | null;
}

/** Answers what a page asks on arrival: everything as it is now. */
export function presentService(parts: Parts): Pick<Services, 'app.present'> {
  const { store, clock, guard, bench, states, version, warning } = parts;
  return {
    'app.present': () => {
      const session = store.sessions.current();
      return done({
        version,
        dataFolder: store.folder,
        warning,
        nowMs: clock.monoMs(),
        wallMs: clock.wallMs(),
        settings: store.settings.get(),
        guard: guard.view(),
        session,
        run: bench.run,
        lastRun: session === null ? null : (store.runs.ofSession(session.sessionId).at(-1) ?? null),
        meters: store.meters.list().map((meter) => meterWhole(meter, states)),
        setup:
          bench.setUp === null
            ? null
            : {
                procedure: bench.setUp.procedure.id,
                channels: [...bench.setUp.choices],
                answers: { ...bench.setUp.answers },
              },
      });
    },
  };
}
