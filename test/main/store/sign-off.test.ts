import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { hashLines, readSessionContent, sessionLines, verifySignOff } from '../../../src-main/store/session-content.ts';
import { code, fullSession, primary, reading, started, value } from './furnish.ts';
import { openedWithConnection } from './open-for-test.ts';

function signed() {
  const { store, connection } = openedWithConnection();
  const held = fullSession(store);
  const { sessionId } = held.session;
  const content = value(store.sessions.content(sessionId));
  const signOff = value(store.sessions.signOff(sessionId, 'Stage workshop', content));
  return { store, connection, held, sessionId, content, signOff };
}

describe('a sign-off', () => {
  test('is kept with the hash of everything that the session holds', () => {
    const { store, sessionId, content, signOff } = signed();
    expect(signOff).toMatchObject({ sessionId, who: 'Stage workshop', contentHash: content.contentHash });
    expect(store.sessions.signOffOf(sessionId)).toEqual(signOff);
    expect(store.sessions.signOffOf(99)).toBeNull();
    expect(readSessionContent(store.file, sessionId)).toEqual(content);
    expect(verifySignOff(store.file, sessionId)).toEqual({ signed: content.contentHash, found: content.contentHash });
    expect(verifySignOff(store.file, 99)).toBeNull();
  });

  test('is refused before the end, for what is not there, twice, and when something was added since', () => {
    const { store } = openedWithConnection();
    const held = fullSession(store);
    const { sessionId } = held.session;
    const content = value(store.sessions.content(sessionId));
    expect(code(store.sessions.signOff(99, 'x', content))).toBe('not-found');
    expect(code(store.sessions.content(99))).toBe('not-found');
    expect(code(store.sessions.signOff(sessionId, ' ', content))).toBe('bad-input');
    value(store.events.add(held.event));
    expect(code(store.sessions.signOff(sessionId, 'x', content))).toBe('stale');
    const again = value(store.sessions.content(sessionId));
    value(store.builds.reviseWinding(held.winding.windingId, 'looked', { ...primary, oneEndOnCore: 'yes' }));
    expect(code(store.sessions.signOff(sessionId, 'x', again))).toBe('stale');
    value(store.sessions.signOff(sessionId, 'x', value(store.sessions.content(sessionId))));
    expect(code(store.sessions.signOff(sessionId, 'x', content))).toBe('session-signed');

    const next = value(store.sessions.open(held.session.fields, false));
    expect(code(store.sessions.signOff(next.sessionId, 'x', value(store.sessions.content(next.sessionId))))).toBe(
      'session-open',
    );
  });

  test('closes the session to everything', () => {
    const { store, held, sessionId } = signed();
    const { run } = held;
    expect(code(store.sessions.correct(sessionId, 'why', held.session.fields))).toBe('session-signed');
    expect(code(store.events.add(held.event))).toBe('session-signed');
    expect(code(store.events.add({ ...held.event, sessionId: null }))).toBe('session-signed');
    expect(code(store.keptPairs.keep(run.runId, 0, held.pair))).toBe('session-signed');
    expect(code(store.keptPairs.withdraw(held.kept.eventId, 0, 'why'))).toBe('session-signed');
    expect(code(store.checks.add(held.check))).toBe('session-signed');
    expect(code(store.results.keep(held.newResult))).toBe('session-signed');
    const event = { ...held.event, eventId: store.events.nextId(), wallMs: 1 };
    expect(code(store.readings.writeBatch({ readings: [], events: [event] }))).toBe('session-signed');
    expect(code(store.readings.writeBatch({ readings: [], events: [], checks: [held.check] }))).toBe('session-signed');
    expect(code(store.readings.writeBatch({ readings: [reading(store, run, 1e6, 1)], events: [] }))).toBe('no-run');
    expect(code(store.sessions.end(sessionId))).toBe('session-closed');
    expect(code(store.runs.end(run.runId, 'ended'))).toBe('no-run');
  });

  test.each([
    [
      'session_revision',
      `INSERT INTO session_revision (session_id, replaces, reason, wall_ms, body) VALUES (1, 1, 'x', 0, '{}')`,
    ],
    ['run', `INSERT INTO run (session_id, procedure, practice, wall_ms, mono_ms) VALUES (1, 'x', 0, 0, 0)`],
    ['run_channel', `INSERT INTO run_channel VALUES (1, 7, 'x', 'V', 1, 1, NULL)`],
    ['reading', `INSERT INTO reading VALUES (900, 1, 0, 90, 9e9, 0, 1, NULL, '', NULL, 0)`],
    ['event by its session', `INSERT INTO event VALUES (900, 1, NULL, 0, 0, 'x', '{}')`],
    ['event by its run', `INSERT INTO event VALUES (900, NULL, 1, 0, 0, 'x', '{}')`],
    ['kept_pair', `INSERT INTO kept_pair VALUES (1, 1)`],
    ['kept_pair_reading', `INSERT INTO kept_pair_reading SELECT event_id, 'coil', 1 FROM kept_pair`],
    ['kept_pair_withdrawal', `INSERT INTO kept_pair_withdrawal SELECT 1, min(event_id), 'x' FROM kept_pair`],
    [
      'check_mark',
      `INSERT INTO check_mark (session_id, check_name, mark, who, wall_ms, mono_ms) VALUES (1, 'x', 'lapsed', 'y', 0, 0)`,
    ],
    [
      'result',
      `INSERT INTO result (build_id, run_id, calculation, version, wall_ms, body) VALUES (1, 1, 'x', 1, 0, '{}')`,
    ],
    ['result_reading', `INSERT INTO result_reading VALUES (1, 7)`],
  ])('closes %s in the database itself', (_, sql) => {
    const { connection } = signed();
    expect(() => connection.exec(sql)).toThrow(/signed off|is ended/);
  });

  test('leaves the next session of the build open', () => {
    const { store, held } = signed();
    const session = value(store.sessions.open(held.session.fields, false));
    const run = started(store, { session, meter: held.meter });
    value(store.readings.writeBatch({ readings: [reading(store, run, 1, 2)], events: [] }));
    value(store.events.add({ ...held.event, sessionId: session.sessionId, runId: run.runId }));
  });

  test('still holds after the core and a winding were corrected', () => {
    const { store, held, sessionId, content } = signed();
    value(store.builds.reviseWinding(held.winding.windingId, 'looked', { ...primary, oneEndOnCore: 'yes' }));
    value(store.cores.correct(held.core.coreId, 'label', { ...held.core.fields, label: 'Dimmer core 1' }));
    expect(verifySignOff(store.file, sessionId)?.found).toBe(content.contentHash);
  });

  test('finds one digit changed behind its back', () => {
    const { store, sessionId, content } = signed();
    store.close();
    const forger = new Database(store.file);
    forger.exec(`DROP TRIGGER reading_keeps_update; UPDATE reading SET value = value + 0.01 WHERE reading_id = 7`);
    forger.close();
    const verified = verifySignOff(store.file, sessionId);
    expect(verified?.signed).toBe(content.contentHash);
    expect(verified?.found).not.toBe(content.contentHash);
  });
});

describe('the content hash', () => {
  test('is that of the lines, whichever way they are read', () => {
    const { store, connection, held } = signed();
    const { sessionId } = held.session;
    const lines = [...sessionLines(connection, sessionId)];
    expect(hashLines(lines)).toMatchObject({ rows: lines.length });
    expect(value(store.sessions.content(sessionId))).toMatchObject(hashLines(lines));
    expect(new Set(lines.map((line) => line.slice(2, line.indexOf('"', 2))))).toEqual(
      new Set([
        'core_revision',
        'build',
        'winding_revision',
        'session',
        'session_revision',
        'session_end',
        'run',
        'run_channel',
        'meter_revision',
        'run_end',
        'reading',
        'event',
        'kept_pair',
        'kept_pair_reading',
        'kept_pair_withdrawal',
        'check_mark',
        'result',
        'result_reading',
      ]),
    );
    expect(lines.filter((line) => line.startsWith('["reading"'))).toHaveLength(held.readings.length);
  });

  // Worked out with sha256sum of GNU coreutils over the same bytes.
  test('is the sha-256 of the form and the lines, each ended by a line feed', () => {
    expect(hashLines(['["a",1]', '["b",2]'])).toEqual({
      contentHash: 'c194980eee9b15d4488bffd1b751b0bee380113d5ce7797aae7f5d5dd70fca0c',
      rows: 2,
    });
  });
});
