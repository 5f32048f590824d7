import Database from 'better-sqlite3';
import { closeSync, existsSync, openSync, readSync, rmSync, statSync } from 'node:fs';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';

/** Marks a file as a record of this program: `Turn` in ASCII, in the header's application id. */
export const applicationId = 0x5475726e;

/** What was found where the record belongs: nothing yet, or a record of a version. */
export type Found = { readonly kind: 'nothing' } | { readonly kind: 'record'; readonly version: number };

/** Files up to this size are checked page by page at every start; larger ones by the jobs worker when asked to. */
const checkedAtOpen = 64 * 1024 * 1024;

const headerLength = 100;
const magic = 'SQLite format 3\0';

/** The first bytes of the file; null when there is no file or it is empty. Fewer than a header when it is that short. */
function headerOf(file: string): Buffer | null {
  if ((statSync(file, { throwIfNoEntry: false })?.size ?? 0) === 0) return null;
  const descriptor = openSync(file, 'r');
  try {
    const header = Buffer.alloc(headerLength);
    return header.subarray(0, readSync(descriptor, header, 0, headerLength, 0));
  } finally {
    closeSync(descriptor);
  }
}

export const damaged = (file: string, detail: unknown) =>
  failed('store-damaged', `${file} is not a record of this program, or it is damaged. It was left as it is.`, {
    detail,
  });

function newer(file: string, version: number, known: number) {
  const message = `${file} was written by a newer version of the program. It was left as it is: install that version.`;
  return failed('store-newer', message, { detail: { version, known } });
}

/** Closes a connection that only looked. When no log lay beside the file before, the empty one of SQLite goes too. */
function closeLook(database: Database.Database, file: string, hadLog: boolean): void {
  database.close();
  if (hadLog || (statSync(`${file}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0) return;
  rmSync(`${file}-wal`, { force: true });
  rmSync(`${file}-shm`, { force: true });
}

/**
 * Looks at the record without changing it: nothing is written, save the index of a log that a crash left. `store-newer` when its version is above `known`; `store-damaged`. Throws what the system throws.
 */
export function look(file: string, known: number): Outcome<Found> {
  const header = headerOf(file);
  if (header === null) return done({ kind: 'nothing' });
  if (header.length < headerLength || header.toString('latin1', 0, magic.length) !== magic)
    return damaged(file, 'header');
  const inHeader = header.readUInt32BE(60);
  if (header.readUInt32BE(68) === applicationId && inHeader > known) return newer(file, inHeader, known);

  const hadLog = existsSync(`${file}-wal`);
  const database = new Database(file, { readonly: true, fileMustExist: true });
  try {
    const version = Number(database.pragma('user_version', { simple: true }));
    const id = Number(database.pragma('application_id', { simple: true }));
    const things = database.prepare<[], number>('SELECT count(*) FROM sqlite_schema').pluck().get();
    if (id === 0 && version === 0 && things === 0) return done({ kind: 'nothing' });
    if (id !== applicationId || version < 1) return damaged(file, 'application id');
    if (version > known) return newer(file, version, known);
    if (statSync(file).size <= checkedAtOpen) {
      const check = database.pragma('quick_check(1)', { simple: true });
      if (check !== 'ok') return damaged(file, check);
    }
    return done({ kind: 'record', version });
  } finally {
    closeLook(database, file, hadLog);
  }
}
