import { done, type Outcome } from '../src-shared/contract/failure.ts';
import type { Push } from '../src-shared/contract/push.ts';
import { openAcceptLog } from './bench/accept-log.ts';
import { BatchWriter } from './bench/batch.ts';
import { benchFactsOf } from './bench/bench-facts.ts';
import { Bench } from './bench/bench.ts';
import { systemClock, type Clock } from './bench/clock.ts';
import { GuardKeeper } from './bench/guard-keeper.ts';
import { Log, type Whereabouts } from './bench/log.ts';
import { MeterStates } from './bench/meter-states.ts';
import { Pairs } from './bench/pairs.ts';
import { Recorder } from './bench/recorder.ts';
import type { Services, Subscribe } from './host/service.ts';
import { MeterHub } from './meter/hub.ts';
import { benchServices } from './request/bench.ts';
import { coreServices } from './request/cores.ts';
import { meterServices } from './request/meters.ts';
import { presentService } from './request/present.ts';
import { runServices } from './request/runs.ts';
import { sessionServices } from './request/sessions.ts';
import { settingsServices } from './request/settings.ts';
import { openStore } from './store/open-store.ts';

export interface AppOptions {
  /** The data folder; made when it is not there. */
  readonly folder: string;
  readonly version: string;
  /** Said on arrival: this Node or host is not one the program was proved on. */
  readonly warning: string | null;
  readonly log: (line: string) => void;
  readonly clock?: Clock;
  /** Where accepted readings are logged, for tests that kill the program; nowhere when left out. */
  readonly acceptLog?: string | undefined;
}

/** The program behind a host. */
export interface App {
  readonly services: Services;
  readonly subscribe: Subscribe;
  /** Writes what waits, frees ports and folder. A second call does nothing. */
  close(): Promise<void>;
}

/** Wires the program on a folder. Refused when the folder is held, newer, damaged or not writable. */
export function createApp({ folder, version, warning, log, clock = systemClock, acceptLog }: AppOptions): Outcome<App> {
  const opened = openStore(folder, { wallNow: () => clock.wallMs(), programVersion: version });
  if (!opened.ok) return opened;
  const store = opened.value;

  const listeners = new Set<(push: Push) => void>();
  const push = (what: Push) => {
    for (const listener of listeners) listener(what);
  };

  const batch = new BatchWriter({ writeBatch: (one) => store.readings.writeBatch(one) }, clock, (sentence) => {
    log(sentence ?? 'The record can be written again; nothing was lost.');
    push({
      kind: 'alarm',
      code: sentence === null ? 'writing-again' : 'not-writing',
      sentence: sentence ?? 'The record is written again. Nothing was lost.',
      atMs: clock.monoMs(),
    });
  });
  const where = (): Whereabouts => ({
    sessionId: store.sessions.current()?.sessionId ?? null,
    runId: bench.run?.runId ?? null,
  });
  const eventLog = new Log({ batch, clock, nextEventId: () => store.events.nextId(), push, where });
  const guard: GuardKeeper = new GuardKeeper({
    clock,
    log: eventLog,
    push,
    onTripped: () => {
      bench.tripped();
    },
  });
  const recorder = new Recorder({
    batch,
    clock,
    nextReadingId: () => store.readings.nextId(),
    push,
    acceptLog: openAcceptLog(acceptLog),
  });
  const onMeter = (meterId: number) => {
    states.changed(meterId);
  };
  const bench: Bench = new Bench({ store, clock, guard, batch, recorder, push, onMeter });
  const states: MeterStates = new MeterStates(bench, clock, push);
  const hub = new MeterHub({
    clock,
    onReading: (_meterId, reading) => {
      bench.hear(reading);
    },
    onStatus: (meterId, status) => {
      states.linkIs(meterId, status);
      if (status.state === 'lost') guard.apply({ kind: 'meter-silent', atMs: clock.monoMs(), meterId });
    },
  });
  const pairs = new Pairs(store, bench, clock);

  const session = store.sessions.current();
  guard.restart(
    store.opening.lastGuard?.body ?? null,
    session === null
      ? null
      : { sessionId: session.sessionId, practice: session.practice, bench: benchFactsOf(store, session) },
  );
  for (const { meterId, description } of store.meters.list()) void hub.start(meterId, description);

  let isClosed = false;
  return done({
    services: {
      ...presentService({ store, clock, guard, bench, states, version, warning }),
      ...settingsServices(store, push),
      ...coreServices({ store, clock, guard, push }),
      ...meterServices({ store, clock, hub, bench, states, push }),
      ...sessionServices({ store, clock, guard, bench, push }),
      ...benchServices({ store, clock, guard, bench, hub }),
      ...runServices({ store, clock, guard, bench, pairs, log: eventLog, push }),
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: async () => {
      if (isClosed) return;
      isClosed = true;
      await hub.stopAll();
      guard.stop();
      states.stop();
      if (!batch.flush()) log('The last readings could not be written: the disk is full.');
      batch.stop();
      store.close();
    },
  });
}
