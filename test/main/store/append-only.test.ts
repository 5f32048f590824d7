import { describe, expect, test } from 'vitest';
import { fullSession, furnished, started, value } from './furnish.ts';
import { openedWithConnection } from './open-for-test.ts';

const quoted = (name: string) => `"${name}"`;

/** A full record, with every table of it but the buckets, which may be worked out again. */
function signedRecord() {
  const opened = openedWithConnection();
  const held = fullSession(opened.store);
  const { sessionId } = held.session;
  value(opened.store.sessions.signOff(sessionId, 'Stage workshop', value(opened.store.sessions.content(sessionId))));
  const tables = opened.connection
    .prepare<[], string>(
      `SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'bucket' ORDER BY name`,
    )
    .pluck()
    .all();
  const columnsOf = (table: string) =>
    opened.connection.prepare<[string], string>('SELECT name FROM pragma_table_info(?)').pluck().all(table);
  const contentOf = (table: string) => opened.connection.prepare(`SELECT * FROM ${quoted(table)}`).all();
  return { ...opened, held, tables, columnsOf, contentOf };
}

describe('a row that was written', () => {
  test('is neither changed nor removed nor replaced, in any table', () => {
    const { tables, columnsOf, contentOf, connection } = signedRecord();
    expect(tables.length).toBe(31);
    for (const table of tables) {
      const before = contentOf(table);
      expect(before.length, table).toBeGreaterThan(0);
      for (const column of columnsOf(table)) {
        const update = `UPDATE ${quoted(table)} SET ${quoted(column)} = ${quoted(column)}`;
        expect(() => connection.exec(update), `${table}.${column}`).toThrow(/never changed/);
        expect(() => connection.exec(update.replace('UPDATE', 'UPDATE OR REPLACE'))).toThrow(/never changed/);
      }
      expect(() => connection.exec(`DELETE FROM ${quoted(table)}`), table).toThrow(/never removed/);
      const replace = `INSERT OR REPLACE INTO ${quoted(table)} SELECT * FROM ${quoted(table)} LIMIT 1`;
      expect(() => connection.exec(replace), table).toThrow(/never replaced|ended|signed off/);
      expect(contentOf(table)).toEqual(before);
    }
  });

  test('is replaced by no correction but one that comes after it, with a reason', () => {
    const { columnsOf, connection } = signedRecord();
    for (const what of ['core', 'winding', 'meter', 'need', 'plan']) {
      const table = `${what}_revision`;
      const copyWith = (replaces: string, reason: string) => {
        const columns = columnsOf(table).filter((name) => name !== 'revision_id');
        const values = columns.map((name) => (name === 'replaces' ? replaces : name === 'reason' ? reason : name));
        return `INSERT INTO ${table} (${columns.join(', ')}) SELECT ${values.join(', ')} FROM ${table} LIMIT 1`;
      };
      expect(() => connection.exec(copyWith('999', `'why'`)), table).toThrow(/FOREIGN KEY/);
      if (what !== 'meter' && what !== 'plan') {
        expect(() => connection.exec(copyWith('NULL', `'why'`)), table).toThrow(/CHECK/);
        expect(() => connection.exec(copyWith('revision_id', 'NULL')), table).toThrow(/CHECK/);
      }
      connection.exec(copyWith('revision_id', `'why'`));
      expect(() => connection.exec(copyWith('revision_id', `'again'`)), table).toThrow(/never replaced/);
    }
  });
});

test('what does not belong together is refused by the database', () => {
  const { connection } = signedRecord();
  const refused: readonly (readonly [string, RegExp])[] = [
    [`INSERT INTO setting (wall_ms, body) VALUES (0, '{')`, /CHECK/],
    [`INSERT INTO reading VALUES (900, 1, 0, 0, 0, 0, 9e999, NULL, '', NULL, 0)`, /CHECK|ended/],
    [`INSERT INTO migration VALUES ('x', 'y', 0)`, /datatype mismatch/],
    [`INSERT INTO build (core_id, number, wall_ms, body) VALUES (99, 1, 0, '{}')`, /FOREIGN KEY/],
    [`INSERT INTO build (core_id, number, wall_ms, body) VALUES (1, 1, 0, '{}')`, /replaced/],
    [`INSERT INTO session_sign_off VALUES (5, 'x', 0, printf('%064d', 0), 1, 1, NULL)`, /FOREIGN KEY/],
    [`INSERT INTO run (session_id, procedure, practice, wall_ms, mono_ms) VALUES (1, 'x', 0, 0, 0)`, /ended/],
  ];
  for (const [sql, message] of refused) expect(() => connection.exec(sql), sql).toThrow(message);
});

test('a session does not end while a run of it is open, whoever asks', () => {
  const { store, connection } = openedWithConnection();
  const setting = furnished(store);
  started(store, setting);
  expect(() => connection.exec(`INSERT INTO session_end VALUES (${setting.session.sessionId}, 0)`)).toThrow(/is open/);
});

test('events and checks name no run of another session', () => {
  const { connection, store, held } = signedRecord();
  const next = value(store.sessions.open(held.session.fields, false));
  expect(() =>
    connection.exec(`INSERT INTO event VALUES (900, ${next.sessionId}, ${held.run.runId}, 0, 0, 'x', '{}')`),
  ).toThrow(/another session|signed off/);
  expect(() =>
    connection.exec(`INSERT INTO check_mark (session_id, run_id, check_name, mark, who, wall_ms, mono_ms)
      VALUES (${next.sessionId}, ${held.run.runId}, 'x', 'lapsed', 'y', 0, 0)`),
  ).toThrow(/another session/);
});
