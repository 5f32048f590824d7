import * as v from 'valibot';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { type Session, SessionFields, type SessionRevision, SignOff } from '../../src-shared/record/session.ts';
import { bodyText, bodyValue, checked, fromRow } from './body.ts';
import { rowId, type Context } from './context.ts';
import { countSession, hashSession, type SessionContent } from './session-content.ts';
import type { Signed } from './signed.ts';

/** The sittings at the bench. At most one is open; it stays open when the program stops. */
export interface Sessions {
  /** `session-open` while another is open; `not-found` when there is no such build, or winding of it. */
  open(fields: SessionFields, practice: boolean): Outcome<Session>;
  /** The session that is open; null when none is. */
  current(): Session | null;
  /** Ends the session. `not-found`; `session-closed` when it was ended before; `run-open` while a run of it is open. */
  end(sessionId: number): Outcome<Session>;
  /**
   * Writes a row that replaces what was said of the session, with the reason; its build cannot be another one
   * (`bad-input`). `not-found`; `session-signed`.
   */
  correct(sessionId: number, reason: string, fields: SessionFields): Outcome<Session>;
  get(sessionId: number): Session | null;
  /** Everything that was said of the session, oldest first; the last is what stands. */
  history(sessionId: number): readonly SessionRevision[];
  /** Oldest first; of one core's builds when `coreId` is given. */
  list(coreId?: number): readonly Session[];
  /**
   * Everything that the session holds, as its content hash. Reads every row (some seconds for a million): for a long
   * session ask the jobs worker, which calls `readSessionContent` with a connection of its own. `not-found`.
   */
  content(sessionId: number): Outcome<SessionContent>;
  /**
   * Closes the session to change for good, by the database itself. `content` is what was hashed; `stale` when the
   * session holds something else by now. `not-found`; `session-open` while it is not ended; `session-signed`.
   */
  signOff(sessionId: number, who: string, content: SessionContent): Outcome<SignOff>;
  /** The sign-off of the session; null while there is none. */
  signOffOf(sessionId: number): SignOff | null;
}

interface SessionRow {
  readonly session_id: number;
  readonly build_id: number;
  readonly practice: number;
  readonly wall_ms: number;
  readonly revision_id: number;
  readonly fed_winding_id: number | null;
  readonly body: string;
  readonly end_wall_ms: number | null;
}

interface RevisionRow {
  readonly revision_id: number;
  readonly wall_ms: number;
  readonly reason: string | null;
  readonly fed_winding_id: number | null;
  readonly body: string;
  readonly build_id: number;
}

/** What a session's row says in its body; build and winding are columns. */
const Said = v.omit(SessionFields, ['buildId', 'fedWindingId']);

const asSession = (row: SessionRow): Session => ({
  sessionId: row.session_id,
  openedWallMs: row.wall_ms,
  endedWallMs: row.end_wall_ms,
  practice: row.practice === 1,
  fields: {
    ...fromRow(Said, bodyValue(row.body), `session ${row.session_id}`),
    buildId: row.build_id,
    fedWindingId: row.fed_winding_id,
  },
});
const orNull = (row: SessionRow | undefined) => (row === undefined ? null : asSession(row));

/** Everything that the sessions ask of a connection. */
function statements(database: Context['database']) {
  const select = `
    SELECT session.*, row.revision_id, row.fed_winding_id, row.body, session_end.wall_ms AS end_wall_ms
    FROM session
    JOIN session_revision AS row USING (session_id)
    LEFT JOIN session_end USING (session_id)
    WHERE NOT EXISTS (SELECT 1 FROM session_revision AS later WHERE later.replaces = row.revision_id)`;
  return {
    build: database.prepare<[number]>('SELECT 1 FROM build WHERE build_id = ?'),
    winding: database.prepare<[number, number]>('SELECT 1 FROM winding WHERE winding_id = ? AND build_id = ?'),
    add: database.prepare<[number, number, number]>(
      'INSERT INTO session (build_id, practice, wall_ms) VALUES (?, ?, ?)',
    ),
    addRow: database.prepare<[number, number | null, string | null, number, number | null, string]>(`
      INSERT INTO session_revision (session_id, replaces, reason, wall_ms, fed_winding_id, body)
      VALUES (?, ?, ?, ?, ?, ?)`),
    addEnd: database.prepare<[number, number]>('INSERT INTO session_end (session_id, wall_ms) VALUES (?, ?)'),
    openRun: database.prepare<[number]>(`
      SELECT 1 FROM run LEFT JOIN run_end USING (run_id) WHERE session_id = ? AND run_end.run_id IS NULL`),
    history: database.prepare<[number], RevisionRow>(`
      SELECT row.revision_id, row.wall_ms, row.reason, row.fed_winding_id, row.body, session.build_id
      FROM session_revision AS row JOIN session USING (session_id) WHERE session_id = ? ORDER BY row.revision_id`),
    one: database.prepare<[number], SessionRow>(`${select} AND session_id = ?`),
    current: database.prepare<[], SessionRow>(`${select} AND session_end.session_id IS NULL`),
    all: database.prepare<[], SessionRow>(`${select} ORDER BY session_id`),
    ofCore: database.prepare<[number], SessionRow>(
      `${select} AND build_id IN (SELECT build_id FROM build WHERE core_id = ?) ORDER BY session_id`,
    ),
    sign: database.prepare<[number, string, number, string, number, number, number | null]>(`
      INSERT INTO session_sign_off
        (session_id, who, wall_ms, content_hash, row_count, core_revision_id, winding_revision_id)
      VALUES (?, ?, ?, ?, ?, ?, ?)`),
    signOff: database.prepare<[number], object>(`
      SELECT session_id AS sessionId, who, wall_ms AS wallMs, content_hash AS contentHash
      FROM session_sign_off WHERE session_id = ?`),
  };
}

/** The sessions over a connection. */
export function createSessions({ database, change, wallNow }: Context, signed: Signed): Sessions {
  const sql = statements(database);
  const get = (sessionId: number) => orNull(sql.one.get(sessionId));
  const missing = () => failed('not-found', 'This session is not in the record.');

  function write(sessionId: number, replaces: number | null, reason: string | null, fields: SessionFields) {
    const { buildId, fedWindingId, ...said } = fields;
    if (fedWindingId !== null && sql.winding.get(fedWindingId, buildId) === undefined) {
      return failed('not-found', 'The fed winding is not one of this build.', { path: 'fields.fedWindingId' });
    }
    const body = bodyText(said);
    if (!body.ok) return body;
    sql.addRow.run(sessionId, replaces, reason, wallNow(), fedWindingId, body.value);
    return done(sessionId);
  }

  /** A change of a session that leaves it as it is read afterwards. */
  const changed = (work: () => Outcome<number>): Outcome<Session> =>
    change(() => {
      const written = work();
      if (!written.ok) return written;
      const session = get(written.value);
      return session === null ? missing() : done(session);
    });

  return {
    open: (input, practice) =>
      changed(() => {
        const fields = checked(SessionFields, input);
        if (!fields.ok) return fields;
        if (sql.current.get() !== undefined) {
          return failed('session-open', 'A session is open. End it before another is begun.');
        }
        const { buildId } = fields.value;
        if (sql.build.get(buildId) === undefined) return failed('not-found', 'This build is not in the record.');
        return write(rowId(sql.add.run(buildId, practice ? 1 : 0, wallNow())), null, null, fields.value);
      }),
    current: () => orNull(sql.current.get()),
    end: (sessionId) =>
      changed(() => {
        const session = get(sessionId);
        if (session === null) return missing();
        if (session.endedWallMs !== null) return failed('session-closed', 'This session was ended before.');
        if (sql.openRun.get(sessionId) !== undefined) {
          return failed('run-open', 'A run is open. End it before the session is ended.');
        }
        sql.addEnd.run(sessionId, wallNow());
        return done(sessionId);
      }),
    correct: (sessionId, reason, input) =>
      changed(() => {
        const fields = checked(SessionFields, input);
        if (!fields.ok) return fields;
        const row = sql.one.get(sessionId);
        if (row === undefined) return missing();
        if (signed.session(sessionId)) return signed.refusal();
        if (fields.value.buildId !== row.build_id) {
          return failed('bad-input', 'A session stays with its build.', { path: 'fields.buildId' });
        }
        return write(sessionId, row.revision_id, reason, fields.value);
      }),
    get,
    history: (sessionId) =>
      sql.history.all(sessionId).map((row) => ({
        wallMs: row.wall_ms,
        reason: row.reason,
        fields: {
          ...fromRow(Said, bodyValue(row.body), `session ${sessionId}`),
          buildId: row.build_id,
          fedWindingId: row.fed_winding_id,
        },
      })),
    list: (coreId) => (coreId === undefined ? sql.all.all() : sql.ofCore.all(coreId)).map(asSession),

    content: (sessionId) => (get(sessionId) === null ? missing() : done(hashSession(database, sessionId))),
    signOff: (sessionId, who, content) =>
      change(() => {
        const session = get(sessionId);
        if (session === null) return missing();
        if (session.endedWallMs === null) return failed('session-open', 'End the session before it is signed off.');
        if (signed.session(sessionId)) return signed.refusal();
        const now = countSession(database, sessionId);
        const { contentHash, rows, coreRevisionId, windingRevisionId } = content;
        if (rows !== now.rows || coreRevisionId !== now.coreRevisionId || windingRevisionId !== now.windingRevisionId) {
          return failed(
            'stale',
            'Something was added since this session was read. Read it again before signing it off.',
          );
        }
        const signOff = checked(SignOff, { sessionId, who, wallMs: wallNow(), contentHash });
        if (!signOff.ok) return signOff;
        const { wallMs } = signOff.value;
        sql.sign.run(sessionId, signOff.value.who, wallMs, contentHash, rows, coreRevisionId, windingRevisionId);
        return signOff;
      }),
    signOffOf(sessionId) {
      const row = sql.signOff.get(sessionId);
      return row === undefined ? null : fromRow(SignOff, row, `sign-off of session ${sessionId}`);
    },
  };
}
