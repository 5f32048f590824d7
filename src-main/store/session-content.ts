import Database from 'better-sqlite3';
import { createHash } from 'node:crypto';
import { canonicalJson } from '../../src-shared/record/canonical.ts';
import { sessionParts } from './session-parts.ts';

/** What a session held when it was read: the number of rows and the two revisions tell whether anything was added. */
export interface SessionContent {
  /** sha-256 over the canonical lines of all its rows, as 64 hexadecimal digits. */
  readonly contentHash: string;
  readonly rows: number;
  /** The latest row of the core and of the build's windings that the hash covers; null when there is no winding. */
  readonly coreRevisionId: number;
  readonly windingRevisionId: number | null;
}

type Connection = Database.Database;
type Extent = Omit<SessionContent, 'contentHash'>;

interface Revisions {
  readonly core: number;
  readonly winding: number | null;
}

function latestRevisions(database: Connection, sessionId: number): Revisions {
  const latest = database
    .prepare<[number, number], Revisions>(
      `SELECT
        (SELECT max(revision_id) FROM core_revision WHERE core_id =
          (SELECT core_id FROM build JOIN session USING (build_id) WHERE session_id = ?)) AS core,
        (SELECT max(revision_id) FROM winding_revision JOIN winding USING (winding_id) WHERE build_id =
          (SELECT build_id FROM session WHERE session_id = ?)) AS winding`,
    )
    .get(sessionId, sessionId);
  if (latest === undefined) throw new Error('A query of one row gave none.');
  return latest;
}

/** How much the session holds now, without reading it through. */
export function countSession(database: Connection, sessionId: number): Extent {
  const { core, winding } = latestRevisions(database, sessionId);
  let rows = 0;
  for (const { from } of sessionParts) {
    const count = database.prepare<[object], number>(`SELECT count(*) FROM ${from}`).pluck();
    rows += count.get({ session: sessionId, core, winding }) ?? 0;
  }
  return { rows, coreRevisionId: core, windingRevisionId: winding };
}

/**
 * The canonical lines of everything that a session holds: one JSON list a row, the table's name first, tables and rows
 * in a fixed order. `revisions` says how far the core and the windings are taken in; left out, to the latest.
 */
export function* sessionLines(database: Connection, sessionId: number, revisions?: Revisions): Generator<string> {
  const { core, winding } = revisions ?? latestRevisions(database, sessionId);
  for (const { table, columns, from, order } of sessionParts) {
    const rows = database
      .prepare<[object], unknown[]>(`SELECT ${columns} FROM ${from} ORDER BY ${order}`)
      .raw()
      .iterate({ session: sessionId, core, winding });
    for (const row of rows) {
      const line = canonicalJson([table, ...row]);
      if (line === null) throw new Error(`The record holds a row of ${table} that is no JSON.`);
      yield line;
    }
  }
}

/** The sha-256 of lines, each ended by a line feed, after a line that names their form; and how many there were. */
export function hashLines(lines: Iterable<string>): { readonly contentHash: string; readonly rows: number } {
  const hash = createHash('sha256').update('turnwright session content 1\n');
  let rows = 0;
  for (const line of lines) {
    hash.update(line).update('\n');
    rows += 1;
  }
  return { contentHash: hash.digest('hex'), rows };
}

/** Everything that the session holds by now, read through. */
export function hashSession(database: Connection, sessionId: number): SessionContent {
  const { core, winding } = latestRevisions(database, sessionId);
  const { contentHash, rows } = hashLines(sessionLines(database, sessionId, { core, winding }));
  return { contentHash, rows, coreRevisionId: core, windingRevisionId: winding };
}

/** `hashSession` with a connection of its own, for the jobs worker: reads beside the program that records. */
export function readSessionContent(file: string, sessionId: number): SessionContent {
  const database = new Database(file, { readonly: true, fileMustExist: true });
  try {
    return database.transaction(() => hashSession(database, sessionId))();
  } finally {
    database.close();
  }
}

/**
 * Whether a signed-off session still holds what was signed: the hash worked out again over the same extent, with a
 * connection of its own. Null when the session is not signed off.
 */
export function verifySignOff(
  file: string,
  sessionId: number,
): { readonly signed: string; readonly found: string } | null {
  const database = new Database(file, { readonly: true, fileMustExist: true });
  try {
    return database.transaction(() => {
      const signOff = database
        .prepare<[number], { hash: string; core: number; winding: number | null }>(
          `SELECT content_hash AS hash, core_revision_id AS core, winding_revision_id AS winding
          FROM session_sign_off WHERE session_id = ?`,
        )
        .get(sessionId);
      if (signOff === undefined) return null;
      return { signed: signOff.hash, found: hashLines(sessionLines(database, sessionId, signOff)).contentHash };
    })();
  } finally {
    database.close();
  }
}
