import type Database from 'better-sqlite3';
import { existsSync } from 'node:fs';
import { copyTo } from './copy.ts';
import { applicationId } from './look.ts';

/** Copies the record beside itself; gives the copy's name, which tells the version that it comes before. */
function copyBefore(database: Database.Database, version: number): string {
  const stem = database.name.replace(/\.sqlite$/, '');
  let copy = `${stem}.before-version-${version}.sqlite`;
  for (let again = 2; existsSync(copy); again += 1) copy = `${stem}.before-version-${version}.${again}.sqlite`;
  copyTo(database, copy);
  return copy;
}

/**
 * Brings the record from `version` (0: an empty file) to the newest shape, one transaction a version, after a copy of
 * what there was. Gives the copy's file; null when nothing had to be copied. Throws what SQLite throws: then the record
 * is at the last version that was reached, and the copy is there.
 */
export function migrate(
  database: Database.Database,
  version: number,
  migrations: readonly string[],
  by: { readonly program: string; readonly wallMs: number },
): string | null {
  if (version >= migrations.length) return null;
  const copy = version === 0 ? null : copyBefore(database, migrations.length);
  migrations.slice(version).forEach((sql, index) => {
    const reached = version + index + 1;
    const step = database.transaction(() => {
      database.exec(sql);
      database.pragma(`application_id = ${applicationId}`);
      database.pragma(`user_version = ${reached}`);
      database
        .prepare('INSERT INTO migration (version, program, wall_ms) VALUES (?, ?, ?)')
        .run(reached, by.program, by.wallMs);
    });
    step.immediate();
  });
  return copy;
}
