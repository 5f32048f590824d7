import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import type { Outcome } from '../../../src-shared/contract/failure.ts';
import { settingsAtFirst } from '../../../src-shared/record/settings.ts';
import type { Store } from '../../../src-main/store/store.ts';
import { code, dimmerCore, fullSession, handMeter, primary, sitting, value } from './furnish.ts';
import { cutterNeed } from './plan-fixture.ts';
import { opened, temporaryFolder } from './open-for-test.ts';

type Held = ReturnType<typeof fullSession>;
type Operation<T> = (store: Store, held: Held) => T;

const build = { title: 'rewound', joint: 're-welded', shunts: 'out' } as const;
const anyContent = { contentHash: '0'.repeat(64), rows: 1, coreRevisionId: 1, windingRevisionId: null };

/** Every operation that changes the record, with something that would be taken. */
const changes: Readonly<Record<string, Operation<Outcome<unknown>>>> = {
  'cores.add': ({ cores }) => cores.add(dimmerCore),
  'cores.correct': ({ cores }, { core }) => cores.correct(core.coreId, 'why', dimmerCore),
  'builds.add': ({ builds }, { core }) => builds.add(core.coreId, build, [primary]),
  'builds.addWinding': ({ builds }, { build: { buildId } }) => builds.addWinding(buildId, primary),
  'builds.reviseWinding': ({ builds }, { winding }) => builds.reviseWinding(winding.windingId, 'why', primary),
  'meters.add': ({ meters }) => meters.add(handMeter),
  'meters.revise': ({ meters }, { meter }) => meters.revise(meter.meterId, null, handMeter),
  'meters.retire': ({ meters }, { meter }) => meters.retire(meter.meterId, 'why'),
  'needs.add': ({ needs }) => needs.add(cutterNeed),
  'needs.revise': ({ needs }, { need }) => needs.revise(need.needId, 'why', cutterNeed),
  'needs.retire': ({ needs }, { need }) => needs.retire(need.needId, 'why'),
  'plans.add': ({ plans }, { build: { buildId }, plan }) => plans.add(buildId, plan.fields),
  'plans.revise': ({ plans }, { plan }) => plans.revise(plan.planId, null, plan.fields),
  'tallies.mark': ({ tallies }, { plan }) => tallies.mark(plan.planId, 'a', 5),
  'settings.save': ({ settings }) => settings.save(settingsAtFirst),
  'sessions.open': ({ sessions }, held) => sessions.open(sitting(held.build.buildId), false),
  'sessions.end': ({ sessions }, { session }) => sessions.end(session.sessionId),
  'sessions.correct': ({ sessions }, { session }) => sessions.correct(session.sessionId, 'why', session.fields),
  'sessions.signOff': ({ sessions }, { session }) => sessions.signOff(session.sessionId, 'x', anyContent),
  'runs.start': ({ runs }, { session, run }) => runs.start({ ...run, sessionId: session.sessionId }),
  'runs.addChannels': ({ runs }, { run }) =>
    runs.addChannels(
      run.runId,
      run.channels.slice(0, 1).map((one) => ({ ...one, channel: 'later' })),
    ),
  'runs.takeOver': ({ runs }, { run }) => {
    const [
      { channel, unit: _, ...filler } = { channel: '', unit: '', meterId: 1, meterRevisionId: 1, lockedRange: null },
    ] = run.channels;
    return runs.takeOver(run.runId, 1, { channel, filler, text: 'Another reads it.' });
  },
  'runs.end': ({ runs }, { run }) => runs.end(run.runId, 'ended'),
  'readings.writeBatch': ({ readings }) => readings.writeBatch({ readings: [], events: [] }),
  'events.add': ({ events }, { event }) => events.add(event),
  'keptPoints.keep': ({ keptPoints }, { run, point }) => keptPoints.keep(run.runId, 1, point),
  'keptPoints.withdraw': ({ keptPoints }, { run, keptPoint }) =>
    keptPoints.withdraw(run.runId, keptPoint.eventId, 1, 'why'),
  'keptPairs.keep': ({ keptPairs }, { run, pair }) => keptPairs.keep(run.runId, 1, pair),
  'keptPairs.withdraw': ({ keptPairs }, { kept }) => keptPairs.withdraw(kept.eventId, 1, 'why'),
  'checks.add': ({ checks }, { check }) => checks.add(check),
  'results.keep': ({ results }, { newResult }) => results.keep(newResult),
};

/** Every operation that only reads. */
const reads: Readonly<Record<string, Operation<unknown>>> = {
  'cores.get': ({ cores }, { core }) => cores.get(core.coreId),
  'cores.list': ({ cores }) => cores.list(),
  'cores.history': ({ cores }, { core }) => cores.history(core.coreId),
  'builds.get': ({ builds }, { build: { buildId } }) => builds.get(buildId),
  'builds.listOf': ({ builds }, { core }) => builds.listOf(core.coreId),
  'builds.ofWinding': ({ builds }, { winding }) => builds.ofWinding(winding.windingId),
  'builds.windingHistory': ({ builds }, { winding }) => builds.windingHistory(winding.windingId),
  'meters.get': ({ meters }, { meter }) => meters.get(meter.meterId),
  'meters.revision': ({ meters }, { meter }) => meters.revision(meter.revisionId),
  'meters.list': ({ meters }) => meters.list(),
  'needs.get': ({ needs }, { need }) => needs.get(need.needId),
  'needs.list': ({ needs }) => needs.list(),
  'plans.get': ({ plans }, { plan }) => plans.get(plan.planId),
  'plans.version': ({ plans }, { plan }) => plans.version(plan.revisionId),
  'plans.ofCore': ({ plans }, { core }) => plans.ofCore(core.coreId),
  'tallies.ofPlan': ({ tallies }, { plan }) => tallies.ofPlan(plan.planId),
  'settings.get': ({ settings }) => settings.get(),
  'sessions.current': ({ sessions }) => sessions.current(),
  'sessions.history': ({ sessions }, { session }) => sessions.history(session.sessionId),
  'sessions.get': ({ sessions }, { session }) => sessions.get(session.sessionId),
  'sessions.list': ({ sessions }) => sessions.list(),
  'sessions.content': ({ sessions }, { session }) => sessions.content(session.sessionId),
  'sessions.signOffOf': ({ sessions }, { session }) => sessions.signOffOf(session.sessionId),
  'runs.current': ({ runs }) => runs.current(),
  'runs.get': ({ runs }, { run }) => runs.get(run.runId),
  'runs.ofSession': ({ runs }, { session }) => runs.ofSession(session.sessionId),
  'runs.ofCore': ({ runs }, { core }) => runs.ofCore(core.coreId),
  'readings.history': ({ readings }, { run: { runId } }) =>
    readings.history({ runId, channel: 'primary-volts', fromMs: 0, toMs: 1e6, pixels: 100 }),
  'readings.whole': ({ readings }, { run }) => readings.whole(run.runId, 0),
  'readings.nearest': ({ readings }, { run }) => readings.nearest(run.runId, 0, 50),
  'readings.get': (store, held) => store.readings.get(held.readings[0]?.readingId ?? 0),
  'readings.last': ({ readings }, { run }) => readings.last(run.runId, 0, 5),
  'readings.spread': ({ readings }, { run }) => readings.spread(run.runId, 0, 3),
  'readings.ofRun': ({ readings }, { run }) => [...readings.ofRun(run.runId)],
  'events.get': ({ events }, { kept }) => events.get(kept.eventId),
  'events.ofKind': ({ events }, { event }) => events.ofKind(event.kind),
  'events.ofRun': ({ events }, { run }) => events.ofRun(run.runId),
  'events.ofRunAndKind': ({ events }, { run }) => events.ofRunAndKind(run.runId, 'point-kept'),
  'events.powerOf': ({ events }, { run }) => events.powerOf(run.runId),
  'events.ofSession': ({ events }, { session }) => events.ofSession(session.sessionId),
  'events.guardBefore': ({ events }, { session, run }) => events.guardBefore(session.sessionId, run.runId, 1e15),
  'events.lastGuard': ({ events }) => events.lastGuard(),
  'keptPoints.ofRun': ({ keptPoints }, { run }) => keptPoints.ofRun(run.runId),
  'keptPairs.get': ({ keptPairs }, { kept }) => keptPairs.get(kept.eventId),
  'keptPairs.ofRun': ({ keptPairs }, { run }) => keptPairs.ofRun(run.runId),
  'checks.ofSession': ({ checks }, { session }) => checks.ofSession(session.sessionId),
  'results.get': ({ results }, { result }) => results.get(result.resultId),
  'results.ofBuild': (store, held) => store.results.ofBuild(held.build.buildId),
  'results.ofRun': ({ results }, { run }) => results.ofRun(run.runId),
  'results.readingsOf': ({ results }, { result }) => results.readingsOf(result.resultId),
};

/** Numbers are counted in memory. */
const counters = ['readings.nextId', 'events.nextId'];

const withRecord = () => {
  const store = opened(temporaryFolder(), { connect: (file) => new Database(file, { timeout: 0 }) });
  return { store, held: fullSession(store) };
};

/** The whole record, as another program sees it. */
function contentOf(file: string) {
  const connection = new Database(file, { readonly: true });
  const tables = connection.prepare<[], string>(`SELECT name FROM sqlite_schema WHERE type = 'table'`).pluck().all();
  const content = tables.map((table) => [table, connection.prepare(`SELECT * FROM ${table}`).all()]);
  connection.close();
  return content;
}

test('every operation of the store is in this matrix', () => {
  const { store } = withRecord();
  const all = Object.entries(store).flatMap(([part, operations]: [string, unknown]) =>
    typeof operations === 'object' && operations !== null && part !== 'opening'
      ? Object.keys(operations).map((name) => `${part}.${name}`)
      : [],
  );
  expect([...Object.keys(changes), ...Object.keys(reads), ...counters].sort()).toEqual(all.sort());
});

describe('while the record is open', () => {
  test('every read gives the same twice and changes nothing', () => {
    const { store, held } = withRecord();
    const before = contentOf(store.file);
    for (const [name, read] of Object.entries(reads)) expect(read(store, held), name).toEqual(read(store, held));
    expect(contentOf(store.file)).toEqual(before);
  });

  test('every change that is refused changes nothing', () => {
    const { store, held } = withRecord();
    const { sessionId } = held.session;
    value(store.sessions.signOff(sessionId, 'x', value(store.sessions.content(sessionId))));
    const closed = [
      'builds.addWinding',
      'sessions.end',
      'sessions.correct',
      'sessions.signOff',
      'runs.start',
      'runs.addChannels',
      'runs.takeOver',
      'runs.end',
      'events.add',
      'keptPoints.keep',
      'keptPoints.withdraw',
      'keptPairs.keep',
      'keptPairs.withdraw',
      'checks.add',
      'results.keep',
    ];
    const before = contentOf(store.file);
    for (const name of closed) expect(changes[name]?.(store, held).ok, name).toBe(false);
    expect(contentOf(store.file)).toEqual(before);
  });
});

describe('while another connection writes', () => {
  test('every change is refused as busy, every read answers, and all is as before afterwards', () => {
    const { store, held } = withRecord();
    const before = contentOf(store.file);
    const other = new Database(store.file);
    other.exec('BEGIN IMMEDIATE');
    for (const [name, change] of Object.entries(changes))
      expect([name, code(change(store, held))]).toEqual([name, 'busy']);
    for (const [name, read] of Object.entries(reads)) expect(() => read(store, held), name).not.toThrow();
    other.exec('ROLLBACK');
    other.close();
    expect(contentOf(store.file)).toEqual(before);
    value(store.cores.add(dimmerCore));
  });
});

describe('after the record was closed', () => {
  test('every operation throws and the file stays as it is', () => {
    const { store, held } = withRecord();
    store.close();
    const before = contentOf(store.file);
    for (const [name, operation] of Object.entries({ ...changes, ...reads })) {
      expect(() => operation(store, held), name).toThrow(/not open/);
    }
    expect(() => store.close()).not.toThrow();
    expect(contentOf(store.file)).toEqual(before);
  });
});
