import Database from 'better-sqlite3';
import { failed } from '../../src-shared/contract/failure.ts';
import { createWriteBatch } from './batch.ts';
import { createBuilds } from './builds.ts';
import { createChecks, createWriteCheck } from './checks.ts';
import type { Context } from './context.ts';
import { createCores } from './cores.ts';
import { createEvents, createWriteEvent } from './events.ts';
import { createKeptPairs } from './kept-pairs.ts';
import { createKeptPoints } from './kept-points.ts';
import { createMeters } from './meters.ts';
import { createNeeds } from './needs.ts';
import { createPlans } from './plans.ts';
import { createReadings } from './readings.ts';
import { createResults } from './results.ts';
import { createRuns } from './runs.ts';
import { createSessions } from './sessions.ts';
import { createSettings } from './settings.ts';
import { createSigned } from './signed.ts';
import type { Store } from './store.ts';

/** What of the store is read by whoever makes something of a run. */
export type RecordReader = Pick<
  Store,
  | 'cores'
  | 'builds'
  | 'meters'
  | 'sessions'
  | 'runs'
  | 'readings'
  | 'events'
  | 'keptPairs'
  | 'keptPoints'
  | 'checks'
  | 'results'
  | 'settings'
  | 'needs'
  | 'plans'
>;

/** A record opened for reading alone, beside the program that records into it. */
export interface OpenReader {
  /** Everything that the work reads is of one moment, whatever is written meanwhile. */
  readonly together: <T>(work: (reader: RecordReader) => T) => T;
  readonly close: () => void;
}

/**
 * Opens the record of a running program with a connection of its own, for the jobs worker. Changes through it are
 * refused as `store-unwritable`. Throws what SQLite throws when the file cannot be opened.
 */
export function openReader(file: string): OpenReader {
  const database = new Database(file, { readonly: true, fileMustExist: true, timeout: 1000 });
  database.pragma('trusted_schema = OFF');
  const context: Context = {
    database,
    change: () => failed('store-unwritable', 'This connection reads alone.'),
    wallNow: () => 0,
  };
  const signed = createSigned(context);
  const writeEvent = createWriteEvent(context, signed);
  const writeCheck = createWriteCheck(context, signed);
  const events = createEvents(context, writeEvent);
  const builds = createBuilds(context);
  const reader: RecordReader = {
    cores: createCores(context, builds),
    builds,
    meters: createMeters(context),
    sessions: createSessions(context, signed),
    runs: createRuns(context, new Map(), writeEvent, () => events.nextId()),
    readings: createReadings(context, createWriteBatch(context, new Map(), writeEvent, writeCheck)),
    events,
    keptPairs: createKeptPairs(context, writeEvent, () => events.nextId(), signed),
    keptPoints: createKeptPoints(context, writeEvent, () => events.nextId(), events),
    checks: createChecks(context, writeCheck),
    results: createResults(context, signed),
    settings: createSettings(context),
    needs: createNeeds(context),
    plans: createPlans(context),
  };
  return {
    together: (work) => database.transaction(() => work(reader)).deferred(),
    close: () => {
      database.close();
    },
  };
}
