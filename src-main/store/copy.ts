import Database from 'better-sqlite3';
import { closeSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';

/**
 * Copies the whole record, what is only in the log included, to a file that is on disk before it has its name. What
 * already has that name is replaced. Throws what SQLite or the system throws; then there is no part of a copy.
 */
export function copyTo(database: Database.Database, to: string): void {
  const part = `${to}.part`;
  rmSync(part, { force: true });
  try {
    database.prepare<[string]>('VACUUM INTO ?').run(part);
    const descriptor = openSync(part, 'r+');
    try {
      fsyncSync(descriptor);
    } finally {
      closeSync(descriptor);
    }
    renameSync(part, to);
  } finally {
    rmSync(part, { force: true });
  }
}

/** `copyTo` with a connection of its own, for the jobs worker: a backup taken beside the program that records. */
export function copyRecord(file: string, to: string): void {
  const database = new Database(file, { readonly: true, fileMustExist: true });
  try {
    copyTo(database, to);
  } finally {
    database.close();
  }
}
