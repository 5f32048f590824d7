import type { Outcome } from '../../../src-shared/contract/failure.ts';
import type { MeterDescription } from '../../../src-shared/meter/description.ts';
import type { WindingFields } from '../../../src-shared/record/build.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';
import type { Reading } from '../../../src-shared/record/reading.ts';
import type { KeptValue, Run } from '../../../src-shared/record/run.ts';
import type { SessionFields } from '../../../src-shared/record/session.ts';
import { settingsAtFirst } from '../../../src-shared/record/settings.ts';
import { cutterNeed, cutterPlan } from './plan-fixture.ts';
import type { CheckMark } from '../../../src-shared/record/check.ts';
import type { NewPair } from '../../../src-main/store/kept-pairs.ts';
import type { NewPoint } from '../../../src-main/store/kept-points.ts';
import type { NewResult } from '../../../src-main/store/results.ts';
import type { Store } from '../../../src-main/store/store.ts';

/** A wall clock that moves on by a second at every look. */
export function wallClock(startMs = Date.UTC(2031, 2, 14, 9)): () => number {
  let now = startMs;
  return () => (now += 1000);
}

/** The value of an outcome that must not be a failure. */
export function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.failure.code}: ${outcome.failure.message}`);
  return outcome.value;
}

/** The code of an outcome that must be a failure. */
export function code(outcome: Outcome<unknown>): string {
  if (outcome.ok) throw new Error('This should have been refused.');
  return outcome.failure.code;
}

export const dimmerCore: CoreFields = {
  label: 'Dimmer core A',
  shape: 'shell',
  mass: { value: 4.2, u: 0.01 },
  massIs: 'as-pulled',
  tongue: { value: 32, u: 0.1 },
  fromVolts: 230,
  fromHertz: 50,
};

export const primary: WindingFields = {
  label: 'Mains side',
  role: 'primary',
  turns: { kind: 'unknown' },
  metal: 'not-known',
  oneEndOnCore: 'not-looked',
  onPlug: true,
};

export const handMeter: MeterDescription = {
  kind: 'keyboard',
  label: 'Yellow hand meter',
  responding: 'average',
  ranges: [],
  scales: [],
  maxVolts: 300,
  category: null,
  typicalIntervalMs: 1000,
};

export const sitting = (buildId: number, fedWindingId: number | null = null): SessionFields => ({
  buildId,
  supply: { kind: 'isolated-low-voltage', volts: 12, hertz: 50, earthed: 'floating', rcd: 'not-known' },
  fedWindingId,
  ambientCelsius: 19.5,
  who: 'Stage workshop',
});

/** A core with a primary, a meter and an open session. */
export function furnished(store: Store) {
  const { core, build } = value(store.cores.add(dimmerCore));
  const winding = value(store.builds.addWinding(build.buildId, primary));
  const meter = value(store.meters.add(handMeter));
  const session = value(store.sessions.open(sitting(build.buildId, winding.windingId), false));
  return { core, build, winding, meter, session };
}

/** Starts a run with as many channels as named. */
export function started(
  store: Store,
  { session, meter }: Pick<ReturnType<typeof furnished>, 'session' | 'meter'>,
  channels: readonly string[] = ['primary-volts', 'coil-volts'],
): Run {
  return value(
    store.runs.start({
      sessionId: session.sessionId,
      procedure: 'test-coil',
      channels: channels.map((channel) => ({
        channel,
        unit: 'V',
        meterId: meter.meterId,
        meterRevisionId: meter.revisionId,
        lockedRange: null,
      })),
      practice: false,
      startedMonoMs: 5000,
    }),
  );
}

/** A reading of the run, numbered by the store. */
export function reading(store: Store, run: Run, atMs: number, volts: number, more: Partial<Reading> = {}): Reading {
  return {
    readingId: store.readings.nextId(),
    runId: run.runId,
    channel: 0,
    atMs,
    wallMs: run.startedWallMs + atMs,
    kind: 'number',
    value: volts,
    coupling: 'ac',
    resolution: 0.01,
    text: `${volts} V AC`,
    origin: 'meter',
    rangeIndex: 1,
    rangeLocked: true,
    tripped: false,
    bottomOfRange: false,
    ...more,
  };
}

/** Writes readings without events. */
export const write = (store: Store, readings: readonly Reading[]) =>
  value(store.readings.writeBatch({ readings, events: [] }));

export function keptValue(channel: string, meterId: number, readingIds: number[], volts: number): KeptValue {
  return {
    channel,
    value: volts,
    u: 0.02,
    shape: 'rectangular',
    dof: null,
    shared: { id: `meter ${meterId} range 1`, u: 0.05 },
    unit: 'V',
    readingIds,
    meterId,
    rangeIndex: 1,
    bottomOfRange: false,
  };
}

/** A session with something in every table, ended; open for sign-off. */
export function fullSession(store: Store) {
  const setting = furnished(store);
  const { session, build, winding, meter } = setting;
  value(store.settings.save(settingsAtFirst));
  const run = started(store, setting);
  const readings = Array.from({ length: 40 }, (_, index) =>
    reading(store, run, index * 100, 12 + index / 100, { channel: index % 2 }),
  );
  const event = {
    sessionId: session.sessionId,
    runId: run.runId,
    monoMs: 6000,
    kind: 'mark',
    body: { text: 'lamp dim' },
  };
  const check: CheckMark = {
    sessionId: session.sessionId,
    runId: run.runId,
    checkId: 'pd-plug',
    mark: 'confirmed',
    who: 'Stage workshop',
    reason: null,
    wallMs: 1,
    monoMs: 2,
  };
  value(
    store.readings.writeBatch({
      readings,
      events: [{ ...event, eventId: store.events.nextId(), wallMs: 3 }],
      checks: [check],
    }),
  );
  const [first = 0, second = 0] = readings.map(({ readingId }) => readingId);
  const pair: NewPair = {
    coilTurns: 12,
    swapped: false,
    order: 'together',
    primary: keptValue('primary-volts', meter.meterId, [first], 12),
    coil: keptValue('coil-volts', meter.meterId, [second], 12.01),
    driftVolts: null,
  };
  const kept = value(store.keptPairs.keep(run.runId, 7000, pair));
  const withdrawn = value(store.keptPairs.keep(run.runId, 7100, pair));
  value(store.keptPairs.withdraw(withdrawn.eventId, 7200, 'lead slipped'));
  const point: NewPoint = {
    atMs: 6000,
    values: [keptValue('primary-volts', meter.meterId, [first], 12)],
    fields: { turns: 120 },
  };
  const keptPoint = value(store.keptPoints.keep(run.runId, 7300, point));
  const newResult: NewResult = {
    buildId: build.buildId,
    runId: run.runId,
    calculation: 'test-coil',
    version: 1,
    input: { readings: [] },
    output: { primaryTurns: { value: 120.2, u: 0.4 } },
    readingIds: [first, second],
  };
  const result = value(store.results.keep(newResult));
  const need = value(store.needs.add(cutterNeed));
  const planFields = cutterPlan(
    {
      coreRevisionId: setting.core.revisionId,
      windingRevisionIds: [winding.revisionId],
      resultIds: [result.resultId],
    },
    { needId: need.needId },
  );
  const plan = value(store.plans.add(build.buildId, planFields));
  value(store.tallies.mark(plan.planId, 'a', 4));
  value(store.runs.end(run.runId, 'ended'));
  value(store.sessions.end(session.sessionId));
  return {
    ...setting,
    winding,
    run,
    readings,
    event,
    check,
    pair,
    kept,
    point,
    keptPoint,
    result,
    newResult,
    need,
    plan,
  };
}
