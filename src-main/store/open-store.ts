import Database from 'better-sqlite3';
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { createWriteBatch } from './batch.ts';
import { createBuilds } from './builds.ts';
import { createChange, systemFailure } from './change.ts';
import { createChecks, createWriteCheck } from './checks.ts';
import type { Context } from './context.ts';
import { createCores } from './cores.ts';
import { createEvents, createWriteEvent } from './events.ts';
import { createKeptPairs } from './kept-pairs.ts';
import { createKeptPoints } from './kept-points.ts';
import { lockFolder, type Lock } from './lock.ts';
import { damaged, look } from './look.ts';
import { createMeters } from './meters.ts';
import { migrate } from './migrate.ts';
import { migrations as ownMigrations } from './migrations/index.ts';
import { createNeeds } from './needs.ts';
import type { OpenRuns } from './open-runs.ts';
import { createPlans } from './plans.ts';
import { createReadings } from './readings.ts';
import { endInterrupted } from './recover.ts';
import { createResults } from './results.ts';
import { createRuns } from './runs.ts';
import { createSessions } from './sessions.ts';
import { createSettings } from './settings.ts';
import { createSigned } from './signed.ts';
import { createTallies } from './tallies.ts';
import type { OpenStore, Opening, Store, StoreOptions } from './store.ts';

const connectByDefault = (file: string) => new Database(file, { timeout: 1000 });

/** What every connection that records is set to. False when the file's system cannot keep a write-ahead log. */
function prepare(database: Database.Database): boolean {
  const mode = database.pragma('journal_mode = WAL', { simple: true });
  database.pragma('synchronous = FULL');
  database.pragma('foreign_keys = ON');
  database.pragma('trusted_schema = OFF');
  database.pragma('journal_size_limit = 67108864');
  return mode === 'wal';
}

/** A failure of the system as a refusal to open; anything else is a bug and is thrown on. */
function refusal(error: unknown, folder: string) {
  const failure = systemFailure(error);
  if (failure !== null) {
    const { code, detail } = failure.failure;
    if (code === 'store-damaged') return damaged(folder, detail);
    return failed(code, `The record in ${folder} cannot be opened. ${failure.failure.message}`, { detail });
  }
  if (error instanceof Error && 'syscall' in error && 'code' in error) {
    const message = `${folder} cannot be used for the record: ${error.message}`;
    return failed(error.code === 'ENOSPC' ? 'disk-full' : 'store-unwritable', message, { detail: error.code });
  }
  throw error;
}

interface Place {
  readonly folder: string;
  readonly file: string;
  readonly lock: Lock;
}

/** Puts the parts together over a connection that is ready. */
function assemble(context: Context, place: Place, opening: Omit<Opening, 'lastGuard'>): Store {
  const openRuns: OpenRuns = new Map();
  const signed = createSigned(context);
  const writeEvent = createWriteEvent(context, signed);
  const writeCheck = createWriteCheck(context, signed);
  const events = createEvents(context, writeEvent);
  const builds = createBuilds(context);
  const plans = createPlans(context);
  return {
    folder: place.folder,
    file: place.file,
    opening: { ...opening, lastGuard: events.lastGuard() },
    cores: createCores(context, builds),
    builds,
    needs: createNeeds(context),
    plans,
    tallies: createTallies(context, plans),
    meters: createMeters(context),
    settings: createSettings(context),
    sessions: createSessions(context, signed),
    runs: createRuns(context, openRuns, writeEvent, () => events.nextId()),
    readings: createReadings(context, createWriteBatch(context, openRuns, writeEvent, writeCheck)),
    events,
    keptPairs: createKeptPairs(context, writeEvent, () => events.nextId(), signed),
    keptPoints: createKeptPoints(context, writeEvent, () => events.nextId(), events),
    checks: createChecks(context, writeCheck),
    results: createResults(context, signed),
    close() {
      if (!context.database.open) return;
      context.database.close();
      place.lock.free();
    },
  };
}

/** Migrates, recovers and assembles over a connection to what was found. */
function build(
  database: Database.Database,
  place: Place,
  version: number,
  migrations: readonly string[],
  { wallNow, programVersion }: StoreOptions,
): Outcome<Store> {
  if (!prepare(database)) {
    return failed('store-unwritable', `${place.folder} cannot hold a record: its disk cannot keep a write-ahead log.`);
  }
  const copy = migrate(database, version, migrations, { program: programVersion, wallMs: wallNow() });
  const context: Context = { database, change: createChange(database), wallNow };
  const interrupted = endInterrupted(context);
  if (!interrupted.ok) return interrupted;
  const migratedFrom = copy === null ? null : { version, copy };
  return done(assemble(context, place, { isNew: version === 0, migratedFrom, interruptedRunIds: interrupted.value }));
}

/** Gives what `work` gives; when that is a failure, or when it throws, `undo` is done. */
function orUndo(undo: () => void, work: () => Outcome<Store>): Outcome<Store> {
  let opened = false;
  try {
    const outcome = work();
    opened = outcome.ok;
    return outcome;
  } finally {
    if (!opened) undo();
  }
}

/** Looks at the record of a folder that is locked, and opens it. */
function openLocked(place: Place, options: StoreOptions): Outcome<Store> {
  const { migrations = ownMigrations, connect = connectByDefault } = options;
  const found = look(place.file, migrations.length);
  if (!found.ok) return found;
  const version = found.value.kind === 'record' ? found.value.version : 0;
  const database = connect(place.file);
  return orUndo(
    () => database.close(),
    () => build(database, place, version, migrations, options),
  );
}

/** Opens the record in a folder; see `OpenStore`. */
export const openStore: OpenStore = (where, options) => {
  const folder = resolve(where);
  try {
    mkdirSync(folder, { recursive: true });
    const lock = lockFolder(folder);
    if (!lock.ok) return lock;
    const place = { folder, file: join(folder, 'record.sqlite'), lock: lock.value };
    return orUndo(
      () => lock.value.free(),
      () => openLocked(place, options),
    );
  } catch (error) {
    return refusal(error, folder);
  }
};
