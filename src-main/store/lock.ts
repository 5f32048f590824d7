import Database from 'better-sqlite3';
import { join } from 'node:path';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { systemFailure } from './change.ts';

/** A folder that this program alone holds, until it is freed or the program ends, however it ends. */
export interface Lock {
  free(): void;
}

/**
 * Holds the folder by an exclusive transaction on a file of its own in it (`lock.sqlite`), which never gets a row.
 * `store-held` when another copy of the program holds it, this one included.
 */
export function lockFolder(folder: string): Outcome<Lock> {
  let database: Database.Database | null = null;
  try {
    database = new Database(join(folder, 'lock.sqlite'), { timeout: 0 });
    const held = database;
    held.exec('BEGIN EXCLUSIVE');
    return done({ free: () => held.close() });
  } catch (error) {
    database?.close();
    const failure = systemFailure(error);
    if (failure === null) throw error;
    if (failure.failure.code !== 'busy') return failure;
    return failed('store-held', `Another copy of the program is using ${folder}. Close it, or choose another folder.`, {
      detail: { folder },
    });
  }
}
