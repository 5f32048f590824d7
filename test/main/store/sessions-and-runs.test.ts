import { describe, expect, test } from 'vitest';
import { eventKind, type RecordEvent } from '../../../src-shared/record/run.ts';
import type { CheckMark } from '../../../src-shared/record/check.ts';
import { code, furnished, keptValue, reading, sitting, started, value, write } from './furnish.ts';
import { opened, temporaryFolder } from './open-for-test.ts';

describe('sessions', () => {
  test('are open one at a time, and stay open over a restart', () => {
    const folder = temporaryFolder();
    const first = opened(folder);
    const { session, build } = furnished(first);
    expect(first.sessions.current()).toEqual(session);
    expect(session).toMatchObject({
      endedWallMs: null,
      practice: false,
      fields: sitting(build.buildId, session.fields.fedWindingId),
    });
    expect(code(first.sessions.open(sitting(build.buildId), false))).toBe('session-open');
    first.close();

    const { sessions } = opened(folder);
    expect(sessions.current()).toEqual(session);
    const ended = value(sessions.end(session.sessionId));
    expect(ended.endedWallMs).not.toBeNull();
    expect(sessions.current()).toBeNull();
    expect(code(sessions.end(session.sessionId))).toBe('session-closed');
    const next = value(sessions.open(sitting(build.buildId), true));
    expect(next.practice).toBe(true);
    expect(sessions.list()).toEqual([ended, next]);
  });

  test('belong to a build that is there and a winding of it', () => {
    const store = opened(temporaryFolder());
    const { session, build, winding } = furnished(store);
    value(store.sessions.end(session.sessionId));
    const other = value(store.cores.add({ label: 'Core B', shape: 'shell' }));
    expect(code(store.sessions.open(sitting(99), false))).toBe('not-found');
    expect(code(store.sessions.open(sitting(other.build.buildId, winding.windingId), false))).toBe('not-found');
    expect(store.sessions.list(other.core.coreId)).toEqual([]);
    expect(store.sessions.list(build.coreId)).toHaveLength(1);
    expect(store.sessions.list()).toHaveLength(1);
  });

  test('are corrected by a further row, on the same build', () => {
    const store = opened(temporaryFolder());
    const { session, build, winding } = furnished(store);
    const corrected = value(
      store.sessions.correct(session.sessionId, 'heating was on', { ...session.fields, ambientCelsius: 22 }),
    );
    expect(corrected).toEqual({ ...session, fields: { ...session.fields, ambientCelsius: 22 } });
    expect(store.sessions.get(session.sessionId)).toEqual(corrected);
    const other = value(store.cores.add({ label: 'Core B', shape: 'shell' }));
    expect(store.sessions.correct(session.sessionId, 'why', sitting(other.build.buildId))).toMatchObject({
      failure: { code: 'bad-input', path: 'fields.buildId' },
    });
    expect(code(store.sessions.correct(99, 'why', sitting(build.buildId, winding.windingId)))).toBe('not-found');
  });

  test('do not end while a run is open', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    expect(code(store.sessions.end(setting.session.sessionId))).toBe('run-open');
    value(store.runs.end(run.runId, 'ended'));
    value(store.sessions.end(setting.session.sessionId));
    expect(code(store.sessions.end(99))).toBe('not-found');
  });
});

describe('runs', () => {
  test('start with their channels and end with how they ended', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    expect(run).toMatchObject({
      sessionId: setting.session.sessionId,
      buildId: setting.build.buildId,
      procedure: 'test-coil',
      startedMonoMs: 5000,
      endedWallMs: null,
      ending: 'running',
      practice: false,
    });
    expect(run.channels.map(({ channel, unit }) => [channel, unit])).toEqual([
      ['primary-volts', 'V'],
      ['coil-volts', 'V'],
    ]);
    expect(store.runs.current()).toEqual(run);
    const ended = value(store.runs.end(run.runId, 'tripped'));
    expect(ended.ending).toBe('tripped');
    expect(ended.endedWallMs).toBeGreaterThan(run.startedWallMs);
    expect(store.runs.current()).toBeNull();
    expect(store.runs.get(run.runId)).toEqual(ended);
    const next = started(store, setting);
    expect(store.runs.ofSession(setting.session.sessionId)).toEqual([ended, next]);
    expect(store.runs.ofCore(setting.core.coreId)).toEqual([ended, next]);
    expect(store.runs.ofCore(99)).toEqual([]);
  });

  test('are refused without an open session, a known meter or distinct channels, and one at a time', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const { session, meter } = setting;
    const run = {
      sessionId: session.sessionId,
      procedure: 'test-coil',
      channels: [],
      practice: false,
      startedMonoMs: 0,
    };
    const channel = {
      channel: 'a',
      unit: 'V',
      meterId: meter.meterId,
      meterRevisionId: meter.revisionId,
      lockedRange: 0,
    };
    expect(code(store.runs.start({ ...run, sessionId: 99 }))).toBe('not-found');
    expect(code(store.runs.start({ ...run, channels: [{ ...channel, meterId: 99 }] }))).toBe('not-found');
    expect(code(store.runs.start({ ...run, channels: [{ ...channel, meterRevisionId: 99 }] }))).toBe('not-found');
    expect(code(store.runs.start({ ...run, channels: [channel, channel] }))).toBe('bad-input');
    expect(code(store.runs.start({ ...run, startedMonoMs: NaN }))).toBe('bad-input');
    expect(code(store.runs.start({ ...run, timeFactor: 60 }))).toBe('bad-input');
    const first = started(store, setting);
    expect(code(store.runs.start(run))).toBe('run-open');
    value(store.runs.end(first.runId, 'ended'));
    expect(code(store.runs.end(first.runId, 'ended'))).toBe('no-run');
    expect(code(store.runs.end(99, 'ended'))).toBe('not-found');
    value(store.sessions.end(session.sessionId));
    expect(code(store.runs.start(run))).toBe('session-closed');
  });

  test('of a practice session are practice, whatever they say', () => {
    const store = opened(temporaryFolder());
    const { session, build, meter } = furnished(store);
    value(store.sessions.end(session.sessionId));
    const practice = value(store.sessions.open(sitting(build.buildId), true));
    const run = started(store, { session: practice, meter });
    expect(run).toMatchObject({ practice: true });
    expect(run).not.toHaveProperty('timeFactor');
    value(store.runs.end(run.runId, 'ended'));
    const simulated = value(store.runs.start({ ...run, timeFactor: 60 }));
    expect(simulated.timeFactor).toBe(60);
    expect(store.runs.get(simulated.runId)).toEqual(simulated);
  });
});

describe('events', () => {
  const mark: Omit<RecordEvent, 'eventId' | 'wallMs'> = {
    sessionId: null,
    runId: null,
    monoMs: 12.5,
    kind: 'mark',
    body: { text: 'lamp is dim', volts: [1.5, null] },
  };

  test('are kept with their body, alone or with readings, in the order of their numbers', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    const pending = store.events.nextId();
    const later = value(store.events.add({ ...mark, runId: run.runId }));
    expect(later.eventId).toBeGreaterThan(pending);
    const inBatch: RecordEvent = { ...mark, eventId: pending, sessionId: setting.session.sessionId, wallMs: 9 };
    value(store.readings.writeBatch({ readings: [], events: [inBatch] }));
    expect(store.events.get(later.eventId)).toEqual(later);
    expect(store.events.get(99)).toBeNull();
    expect(store.events.ofRun(run.runId)).toEqual([later]);
    expect(store.events.ofSession(setting.session.sessionId)).toEqual([inBatch, later]);
  });

  test('are refused for what is not there or does not go together', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    value(store.runs.end(run.runId, 'ended'));
    value(store.sessions.end(setting.session.sessionId));
    const next = value(store.sessions.open(sitting(setting.build.buildId), false));
    expect(code(store.events.add({ ...mark, sessionId: 99 }))).toBe('not-found');
    expect(code(store.events.add({ ...mark, runId: 99 }))).toBe('not-found');
    expect(code(store.events.add({ ...mark, runId: run.runId, sessionId: next.sessionId }))).toBe('bad-input');
    expect(code(store.events.add({ ...mark, body: { volts: NaN } }))).toBe('bad-input');
    expect(code(store.events.add({ ...mark, monoMs: Infinity }))).toBe('bad-input');
  });

  test('show the last state of the guard after a restart', () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    expect(store.events.lastGuard()).toBeNull();
    value(store.events.add({ ...mark, kind: eventKind.guard, body: { kind: 'unproved', revision: 1 } }));
    const live = value(store.events.add({ ...mark, kind: eventKind.guard, body: { kind: 'live', revision: 2 } }));
    value(store.events.add(mark));
    store.close();
    const again = opened(folder);
    expect(again.opening.lastGuard).toEqual(live);
    expect(again.events.lastGuard()).toEqual(live);
    expect(again.events.nextId()).toBe(live.eventId + 2);
  });
});

describe('kept pairs', () => {
  function withPair() {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    const readings = [
      reading(store, run, 10, 12.02),
      reading(store, run, 12, 1.21, { channel: 1 }),
      reading(store, run, 20, 12.04),
    ];
    write(store, readings);
    const [first = 0, coil = 0, second = 0] = readings.map(({ readingId }) => readingId);
    const pair = {
      coilTurns: 12,
      swapped: false,
      order: 'primary-coil-primary' as const,
      primary: keptValue('primary-volts', setting.meter.meterId, [first, second], 12.03),
      coil: keptValue('coil-volts', setting.meter.meterId, [coil], 1.21),
      driftVolts: 0.02,
    };
    return { store, run, pair, ...setting };
  }

  test('are events with the readings that they came from', () => {
    const { store, run, pair } = withPair();
    const kept = value(store.keptPairs.keep(run.runId, 7000, pair));
    expect(kept).toEqual({ ...pair, eventId: kept.eventId, withdrawn: null });
    expect(store.events.get(kept.eventId)).toMatchObject({
      kind: eventKind.pairKept,
      runId: run.runId,
      monoMs: 7000,
      body: pair,
    });
    expect(store.keptPairs.get(kept.eventId)).toEqual(kept);
    expect(store.keptPairs.ofRun(run.runId)).toEqual([kept]);
  });

  test('are withdrawn by a further event, and stay', () => {
    const { store, run, pair } = withPair();
    const first = value(store.keptPairs.keep(run.runId, 7000, pair));
    const second = value(store.keptPairs.keep(run.runId, 8000, { ...pair, swapped: true }));
    expect(value(store.keptPairs.withdraw(first.eventId, 9000, 'lead slipped')).withdrawn).toBe('lead slipped');
    expect(store.keptPairs.ofRun(run.runId)).toEqual([{ ...first, withdrawn: 'lead slipped' }, second]);
    expect(store.events.ofRun(run.runId).at(-1)).toMatchObject({
      kind: eventKind.pairWithdrawn,
      body: { eventId: first.eventId, reason: 'lead slipped' },
    });
    expect(code(store.keptPairs.withdraw(first.eventId, 9000, 'again'))).toBe('not-found');
    expect(code(store.keptPairs.withdraw(99, 9000, 'why'))).toBe('not-found');
    expect(store.keptPairs.get(99)).toBeNull();
  });

  test('are refused for a run or reading that is not written, and nothing of them stays', () => {
    const { store, run, pair } = withPair();
    expect(code(store.keptPairs.keep(99, 0, pair))).toBe('not-found');
    const unwritten = { ...pair, coil: { ...pair.coil, readingIds: [store.readings.nextId()] } };
    expect(code(store.keptPairs.keep(run.runId, 0, unwritten))).toBe('not-found');
    expect(code(store.keptPairs.keep(run.runId, 0, { ...pair, coil: { ...pair.coil, value: NaN } }))).toBe('bad-input');
    expect(store.events.ofRun(run.runId)).toEqual([]);
  });

  test('do not take readings of another run', () => {
    const { store, run, pair, session, meter } = withPair();
    value(store.runs.end(run.runId, 'ended'));
    const next = started(store, { session, meter });
    expect(code(store.keptPairs.keep(next.runId, 0, pair))).toBe('not-found');
  });
});

describe('check marks', () => {
  test('are kept in the order in which they were written, alone or with readings', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    const confirmed: CheckMark = {
      sessionId: setting.session.sessionId,
      runId: null,
      checkId: 'pd-plug',
      mark: 'confirmed',
      who: 'Stage workshop',
      reason: null,
      wallMs: 5,
      monoMs: 6,
    };
    const lapsed: CheckMark = { ...confirmed, runId: run.runId, mark: 'lapsed', reason: 'wire' };
    value(store.checks.add(confirmed));
    value(store.readings.writeBatch({ readings: [], events: [], checks: [lapsed] }));
    expect(store.checks.ofSession(setting.session.sessionId)).toEqual([confirmed, lapsed]);
    expect(code(store.checks.add({ ...confirmed, sessionId: 99 }))).toBe('not-found');
    expect(code(store.checks.add({ ...confirmed, runId: 99 }))).toBe('not-found');
    expect(code(store.checks.add({ ...confirmed, monoMs: NaN }))).toBe('bad-input');
  });
});

describe('results', () => {
  test('are kept with what went in and came out, and the readings they came from', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    const readings = [reading(store, run, 10, 12.02), reading(store, run, 12, 12.05)];
    write(store, readings);
    const { buildId } = setting.build;
    const made = {
      buildId,
      runId: run.runId,
      calculation: 'test-coil',
      version: 3,
      input: { readings: [1.2] },
      output: { primaryTurns: 120.2 },
    };
    const result = value(store.results.keep({ ...made, readingIds: readings.map(({ readingId }) => readingId) }));
    expect(result).toEqual({ ...made, resultId: result.resultId, wallMs: result.wallMs });
    expect(store.results.get(result.resultId)).toEqual(result);
    expect(store.results.readingsOf(result.resultId)).toEqual(readings.map(({ readingId }) => readingId));
    const planned = value(store.results.keep({ ...made, runId: null, readingIds: [] }));
    expect(store.results.ofBuild(buildId)).toEqual([result, planned]);
    expect(store.results.ofRun(run.runId)).toEqual([result]);
    expect(store.results.get(99)).toBeNull();
    expect(code(store.results.keep({ ...made, buildId: 99, readingIds: [] }))).toBe('not-found');
    expect(code(store.results.keep({ ...made, runId: 99, readingIds: [] }))).toBe('not-found');
    expect(code(store.results.keep({ ...made, readingIds: [99] }))).toBe('not-found');
    expect(code(store.results.keep({ ...made, output: { u: Infinity }, readingIds: [] }))).toBe('bad-input');
    const other = value(store.cores.add({ label: 'Core B', shape: 'shell' }));
    expect(code(store.results.keep({ ...made, buildId: other.build.buildId, readingIds: [] }))).toBe('bad-input');
  });
});
