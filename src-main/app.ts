import { randomInt } from 'node:crypto';
import { join } from 'node:path';
import { done, type Outcome } from '../src-shared/contract/failure.ts';
import type { Push } from '../src-shared/contract/push.ts';
import { eventKind } from '../src-shared/record/run.ts';
import { seededGenerator } from '../src-shared/quantity/generator.ts';
import { openAcceptLog } from './bench/accept-log.ts';
import { BatchWriter } from './bench/batch.ts';
import { benchFactsOf } from './bench/bench-facts.ts';
import { Bench } from './bench/bench.ts';
import { systemClock, type Clock } from './bench/clock.ts';
import { GuardKeeper } from './bench/guard-keeper.ts';
import { Log, type Whereabouts } from './bench/log.ts';
import { MeterStates } from './bench/meter-states.ts';
import { Pairs } from './bench/pairs.ts';
import { Points } from './bench/points.ts';
import { Recorder } from './bench/recorder.ts';
import { keepIn, type Deliver } from './export/delivery.ts';
import { ExportDesk } from './export/export-desk.ts';
import type { Services, Subscribe } from './host/service.ts';
import { Jobs } from './jobs/jobs.ts';
import { workerFile } from './jobs/worker-file.ts';
import { MeterHub } from './meter/hub.ts';
import { PortDesk } from './meter/port-desk.ts';
import { LessonDesk } from './practice/lesson-desk.ts';
import { PracticeBench } from './practice/practice-bench.ts';
import { PracticeSetting } from './practice/practice-setting.ts';
import { benchServices } from './request/bench.ts';
import { coreServices } from './request/cores.ts';
import { exportServices } from './request/exports.ts';
import { lessonServices } from './request/lessons.ts';
import { meterServices } from './request/meters.ts';
import { needServices } from './request/needs.ts';
import { planServices } from './request/plans.ts';
import { practiceServices } from './request/practice.ts';
import { presentService } from './request/present.ts';
import { runFactsServices } from './request/run-facts.ts';
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
  /** How the host gives files to the person; left out, they are put into the folder `exports` beside the record. */
  readonly deliver?: Deliver;
  /** Where accepted readings are logged, for tests that kill the program; nowhere when left out. */
  readonly acceptLog?: string | undefined;
  /** What the practice bench draws by lot begins with this number, for tests; drawn itself when left out. */
  readonly lot?: string | undefined;
}

/** The program behind a host. */
export interface App {
  readonly services: Services;
  readonly subscribe: Subscribe;
  /** Writes what waits, frees ports and folder. A second call does nothing. */
  close(): Promise<void>;
}

/** Wires the program on a folder. Refused when the folder is held, newer, damaged or not writable. */
export function createApp(options: AppOptions): Outcome<App> {
  const { folder, version, warning, log, clock = systemClock, acceptLog, lot } = options;
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
    onSlept: (unseenMs) => {
      bench.slept(unseenMs);
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
  const onRun = () => {
    setting.runBegan();
  };
  const bench: Bench = new Bench({
    store,
    clock,
    guard,
    batch,
    recorder,
    log: eventLog,
    push,
    onMeter,
    onRun,
    timeFactor: () => setting.controls.timeFactor,
  });
  const states: MeterStates = new MeterStates(bench, clock, push);
  const setting: PracticeSetting = new PracticeSetting({
    nowMs: () => clock.monoMs(),
    lot: () => seededGenerator(lot === undefined ? randomInt(2 ** 31) : Number(lot)),
    openRun: () => (bench.run?.practice === true ? bench.run.runId : null),
    record: (runId, kind, body) => {
      store.events.add({ sessionId: null, runId, monoMs: clock.monoMs(), kind, body });
    },
    left: () => store.events.ofKind(eventKind.practiceLeft).at(-1)?.body,
  });
  const practice: PracticeBench = new PracticeBench({
    store,
    setting,
    guardState: () => guard.state,
    bench,
    nowMs: () => clock.monoMs(),
    tell: ({ code, sentence }) => {
      push({ kind: 'alarm', code: `practice-${code}`, sentence: `Practice: ${sentence}`, atMs: clock.monoMs() });
    },
  });
  const lessons = new LessonDesk(store, clock);
  listeners.add(({ kind }) => {
    if (kind !== 'guard') return;
    practice.catchUp();
    lessons.noticeProof(guard.state);
  });
  const hub = new MeterHub({
    clock,
    practice: (meterId, meter) => practice.source(meterId, meter),
    onReading: (_meterId, reading) => {
      bench.hear(reading);
    },
    onStatus: (meterId, status) => {
      states.linkIs(meterId, status);
      if (status.state === 'lost') guard.apply({ kind: 'meter-silent', atMs: clock.monoMs(), meterId });
    },
  });
  const desk = new PortDesk({ clock, hub, push, inUse: (meterId) => bench.isInRun(meterId) });
  const pairs = new Pairs(store, bench, clock);
  const jobs = new Jobs({ entry: workerFile(), record: store.file, log });
  const exports = new ExportDesk({
    folder: join(store.folder, 'waiting'),
    jobs,
    clock,
    push,
    deliver: options.deliver ?? keepIn(join(store.folder, 'exports')),
    version,
  });
  const points = new Points({ store, bench, clock, guard });

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
      ...coreServices({ store, clock, guard, bench, push }),
      ...needServices(store, push),
      ...planServices(store, push),
      ...meterServices({ store, clock, hub, desk, guard, bench, states, push }),
      ...practiceServices({ store, hub, practice, setting, bench, guard, push }),
      ...lessonServices({ store, guard, setting, desk: lessons, push }),
      ...sessionServices({ store, clock, guard, bench, push }),
      ...benchServices({ store, clock, guard, bench, hub }),
      ...runFactsServices(store),
      ...exportServices(exports),
      ...runServices({ store, clock, guard, bench, pairs, points, log: eventLog, push }),
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: async () => {
      if (isClosed) return;
      isClosed = true;
      await desk.stop();
      await Promise.all([hub.stopAll(), jobs.close()]);
      exports.close();
      guard.stop();
      states.stop();
      if (!batch.flush()) log('The last readings could not be written: the disk is full.');
      batch.stop();
      store.close();
    },
  });
}
