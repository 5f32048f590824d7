import Database from 'better-sqlite3';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  truncateSync,
  writeFileSync,
  openSync,
  writeSync,
  closeSync,
  statSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { copyRecord } from '../../../src-main/store/copy.ts';
import { openStore } from '../../../src-main/store/open-store.ts';
import { migrations } from '../../../src-main/store/migrations/index.ts';
import { code, dimmerCore, value, wallClock } from './furnish.ts';
import { opened, temporaryFolder } from './open-for-test.ts';

const options = () => ({ wallNow: wallClock(), programVersion: '0.1.0' });
const digest = (file: string) => createHash('sha256').update(readFileSync(file)).digest('hex');
const digests = (folder: string) =>
  Object.fromEntries(
    readdirSync(folder)
      .filter((name) => name !== 'lock.sqlite')
      .map((name) => [name, digest(join(folder, name))]),
  );

/** A folder with a record of the first version that holds one core. */
function withRecord(): string {
  const folder = temporaryFolder();
  const store = opened(folder);
  value(store.cores.add(dimmerCore));
  store.close();
  return folder;
}

describe('a folder without a record', () => {
  test('is made, with a record that is set up to last', () => {
    const folder = join(temporaryFolder(), 'deep', 'down');
    const store = opened(folder);
    expect(store.opening).toEqual({ isNew: true, migratedFrom: null, interruptedRunIds: [], lastGuard: null });
    const beside = new Database(store.file, { readonly: true });
    expect(beside.pragma('journal_mode', { simple: true })).toBe('wal');
    expect(beside.pragma('user_version', { simple: true })).toBe(migrations.length);
    expect(beside.prepare('SELECT version, program FROM migration').all()).toEqual(
      migrations.map((_, index) => ({ version: index + 1, program: '0.1.0' })),
    );
    beside.close();
  });

  test('holds only STRICT tables', () => {
    const store = opened(temporaryFolder());
    const beside = new Database(store.file, { readonly: true });
    const tables = beside
      .prepare<[], { name: string; strict: number }>(
        `SELECT name, strict FROM pragma_table_list WHERE type = 'table' AND schema = 'main'
      AND name NOT LIKE 'sqlite_%'`,
      )
      .all();
    beside.close();
    expect(tables.length).toBeGreaterThan(20);
    expect(tables.filter(({ strict }) => strict !== 1)).toEqual([]);
  });

  test('writes with synchronous=FULL and foreign keys', () => {
    let connection: Database.Database | undefined;
    opened(temporaryFolder(), { connect: (file) => (connection = new Database(file)) });
    expect(connection?.pragma('synchronous', { simple: true })).toBe(2);
    expect(connection?.pragma('foreign_keys', { simple: true })).toBe(1);
  });
});

describe('a record that is there', () => {
  test('is found as it was left', () => {
    const folder = withRecord();
    const store = opened(folder);
    expect(store.opening.isNew).toBe(false);
    expect(store.cores.list().map(({ fields }) => fields)).toEqual([dimmerCore]);
  });

  test('is closed without a log left beside it, twice without harm', () => {
    const folder = withRecord();
    const store = opened(folder);
    store.close();
    store.close();
    expect(readdirSync(folder).sort()).toEqual(['lock.sqlite', 'record.sqlite']);
  });

  test('is taken over when a crash left an empty file or one without tables', () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'record.sqlite'), '');
    opened(folder).close();
    const other = temporaryFolder();
    const bare = new Database(join(other, 'record.sqlite'));
    bare.pragma('journal_mode = WAL');
    bare.close();
    expect(opened(other).opening.isNew).toBe(true);
  });
});

describe('a migration', () => {
  const further = [...migrations, 'CREATE TABLE further (further_id INTEGER PRIMARY KEY) STRICT'];
  const next = migrations.length + 1;

  test('comes after a copy that is named by version and kept', () => {
    const folder = withRecord();
    const store = opened(folder, { migrations: further, programVersion: '0.2.0' });
    const copy = join(folder, `record.before-version-${next}.sqlite`);
    expect(store.opening.migratedFrom).toEqual({ version: migrations.length, copy });
    expect(store.cores.list()).toHaveLength(1);
    store.close();

    const before = new Database(copy, { readonly: true });
    expect(before.pragma('user_version', { simple: true })).toBe(migrations.length);
    expect(before.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(before.prepare('SELECT count(*) FROM core').pluck().get()).toBe(1);
    before.close();
    expect(opened(folder, { migrations: further }).opening.migratedFrom).toBeNull();
    expect(existsSync(copy)).toBe(true);
  });

  test('takes what is still only in the log into the copy', () => {
    const folder = withRecord();
    const kill = opened(folder);
    value(kill.cores.add({ ...dimmerCore, label: 'Dimmer core B' }));
    const beside = temporaryFolder();
    for (const name of ['record.sqlite', 'record.sqlite-wal']) {
      writeFileSync(join(beside, name), readFileSync(join(folder, name)));
    }
    const store = opened(beside, { migrations: further });
    const copy = new Database(store.opening.migratedFrom?.copy, { readonly: true });
    expect(copy.prepare('SELECT count(*) FROM core').pluck().get()).toBe(2);
    copy.close();
  });

  test('that fails leaves the record at its version, and a later one makes a further copy', () => {
    const folder = withRecord();
    const broken = [...migrations, 'CREATE TABLE half (half_id INTEGER PRIMARY KEY) STRICT; CREATE NONSENSE'];
    expect(() => openStore(folder, { ...options(), migrations: broken })).toThrow(/syntax error/);

    const store = opened(folder);
    expect(store.cores.list()).toHaveLength(1);
    store.close();
    const beside = new Database(join(folder, 'record.sqlite'), { readonly: true });
    expect(beside.prepare(`SELECT count(*) FROM sqlite_schema WHERE name = 'half'`).pluck().get()).toBe(0);
    beside.close();
    expect(opened(folder, { migrations: further }).opening.migratedFrom?.copy).toBe(
      join(folder, `record.before-version-${next}.2.sqlite`),
    );
  });
});

test('a backup is taken beside the program that records, whole and under its own name only', () => {
  const store = opened(temporaryFolder());
  value(store.cores.add(dimmerCore));
  const target = temporaryFolder();
  const backup = join(target, 'record.sqlite');
  copyRecord(store.file, backup);
  value(store.cores.add(dimmerCore));
  copyRecord(store.file, backup);
  expect(readdirSync(target)).toEqual(['record.sqlite']);
  expect(opened(target).cores.list()).toEqual(store.cores.list());
  expect(() => copyRecord(store.file, join(target, 'nowhere', 'record.sqlite'))).toThrow();
});

describe('what is refused and left byte for byte alone', () => {
  test('a record of a newer version', () => {
    const folder = withRecord();
    const file = join(folder, 'record.sqlite');
    const raise = new Database(file);
    raise.pragma('user_version = 99');
    raise.close();
    const before = digests(folder);

    const refused = openStore(folder, options());
    expect(refused).toMatchObject({
      ok: false,
      failure: { code: 'store-newer', detail: { version: 99, known: migrations.length } },
    });
    expect(digests(folder)).toEqual(before);
  });

  test('a newer record whose version is only in the log that a crash left', () => {
    const folder = withRecord();
    const file = join(folder, 'record.sqlite');
    const raise = new Database(file);
    raise.pragma('user_version = 99');
    const beside = temporaryFolder();
    for (const name of ['record.sqlite', 'record.sqlite-wal']) {
      writeFileSync(join(beside, name), readFileSync(join(folder, name)));
    }
    raise.close();
    const before = digests(beside);
    expect(before['record.sqlite-wal']).toBeDefined();
    expect(readFileSync(join(beside, 'record.sqlite')).readUInt32BE(60)).toBe(migrations.length);

    expect(code(openStore(beside, options()))).toBe('store-newer');
    expect(digests(beside)).toMatchObject(before);
  });

  test.each([
    ['text', (file: string) => writeFileSync(file, 'Shopping list: laminations, tape\n'.repeat(40))],
    ['a few bytes', (file: string) => writeFileSync(file, 'SQLite')],
    ['the record of another program', (file: string) => void new Database(file).exec('CREATE TABLE a (b)').close()],
  ])('%s', (_, make) => {
    const folder = temporaryFolder();
    make(join(folder, 'record.sqlite'));
    const before = digests(folder);
    expect(code(openStore(folder, options()))).toBe('store-damaged');
    expect(digests(folder)).toEqual(before);
  });

  test.each([
    ['cut short', (file: string) => truncateSync(file, statSync(file).size - 4096 * 3)],
    [
      'overwritten in the middle',
      (file: string) => {
        const descriptor = openSync(file, 'r+');
        writeSync(descriptor, Buffer.alloc(4096 * 4, 0xa5), 0, 4096 * 4, 4096);
        closeSync(descriptor);
      },
    ],
  ])('a record %s', (_, spoil) => {
    const folder = withRecord();
    spoil(join(folder, 'record.sqlite'));
    const before = digests(folder);
    expect(code(openStore(folder, options()))).toBe('store-damaged');
    expect(digests(folder)).toEqual(before);
  });

  test('and the folder is free again afterwards', () => {
    const folder = temporaryFolder();
    const file = join(folder, 'record.sqlite');
    writeFileSync(file, 'Not a record. '.repeat(20));
    expect(code(openStore(folder, options()))).toBe('store-damaged');
    writeFileSync(file, '');
    expect(opened(folder).opening.isNew).toBe(true);
  });
});

describe('a folder that cannot be used', () => {
  test('is refused with the reason of the system', () => {
    const file = join(temporaryFolder(), 'a-file');
    writeFileSync(file, 'in the way');
    expect(openStore(join(file, 'folder'), options())).toMatchObject({
      ok: false,
      failure: { code: 'store-unwritable', detail: 'ENOTDIR' },
    });
    expect(openStore(file, options())).toMatchObject({ failure: { code: 'store-unwritable', detail: 'EEXIST' } });
  });

  test('is refused when its record is a folder', () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'record.sqlite'));
    expect(code(openStore(folder, options()))).toBe('store-unwritable');
  });

  test('is refused while this program has it, and free when that is closed', () => {
    const folder = temporaryFolder();
    const first = opened(folder);
    expect(openStore(folder, options())).toMatchObject({
      ok: false,
      failure: {
        code: 'store-held',
        message: `Another copy of the program is using ${folder}. Close it, or choose another folder.`,
      },
    });
    first.close();
    opened(folder);
  });
});
