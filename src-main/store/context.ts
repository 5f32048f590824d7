import type Database from 'better-sqlite3';
import type { Change } from './change.ts';

/** What every part of the store works with. */
export interface Context {
  readonly database: Database.Database;
  readonly change: Change;
  readonly wallNow: () => number;
}

/** The number that the last inserted row is known by. */
export const rowId = (result: Database.RunResult): number => Number(result.lastInsertRowid);

/** What every row of a revision table has. `replaces` and `reason` are null together, in the first row. */
export interface RevisionRow {
  readonly revision_id: number;
  readonly replaces: number | null;
  readonly reason: string | null;
  readonly wall_ms: number;
  readonly body: string;
}
