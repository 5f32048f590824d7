import Database from 'better-sqlite3';
import { failed, type Outcome } from '../../src-shared/contract/failure.ts';

/** A database failure that has nothing to do with what was asked: a full disk, a file that cannot be read. */
export function systemFailure(error: unknown): ReturnType<typeof failed> | null {
  if (!(error instanceof Database.SqliteError)) return null;
  const detail = error.code;
  if (detail.startsWith('SQLITE_FULL')) {
    return failed('disk-full', 'The disk is full. Nothing of this was written; what was written before is kept.', {
      detail,
    });
  }
  if (detail.startsWith('SQLITE_CORRUPT') || detail.startsWith('SQLITE_NOTADB')) {
    return failed('store-damaged', 'The record is damaged. Nothing was written: keep the file and its copies.', {
      detail,
    });
  }
  if (
    detail.startsWith('SQLITE_IOERR') ||
    detail.startsWith('SQLITE_CANTOPEN') ||
    detail.startsWith('SQLITE_READONLY')
  ) {
    return failed('store-unwritable', 'The disk did not take it. Nothing of this was written.', { detail });
  }
  if (detail.startsWith('SQLITE_BUSY')) {
    return failed('busy', 'Another program has the record in hand. Nothing was written: try again.', { detail });
  }
  return null;
}

/** Runs work as one transaction: what it answers is kept when it is a value, and undone when it is a failure. */
export type Change = <T>(work: () => Outcome<T>) => Outcome<T>;

/**
 * Makes the `Change` of a connection. A database failure of the kinds above comes back as a failure with nothing
 * written; anything else thrown is a bug and is thrown on, with nothing written either.
 */
export function createChange(database: Database.Database): Change {
  const undo = new Error('Undo.');
  const transaction = database.transaction((work: () => void) => {
    work();
  });
  return (work) => {
    let outcome: ReturnType<typeof work> | null = null;
    try {
      transaction.immediate(() => {
        outcome = work();
        if (!outcome.ok) throw undo;
      });
    } catch (error) {
      if (error === undo && outcome !== null) return outcome;
      const failure = systemFailure(error);
      if (failure === null) throw error;
      return failure;
    }
    if (outcome === null) throw new Error('A change ended without an outcome.');
    return outcome;
  };
}
