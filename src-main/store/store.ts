import type Database from 'better-sqlite3';
import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { RecordEvent } from '../../src-shared/record/run.ts';
import type { Builds } from './builds.ts';
import type { Checks } from './checks.ts';
import type { Cores } from './cores.ts';
import type { Events } from './events.ts';
import type { KeptPairs } from './kept-pairs.ts';
import type { KeptPoints } from './kept-points.ts';
import type { Meters } from './meters.ts';
import type { Needs } from './needs.ts';
import type { Plans } from './plans.ts';
import type { Readings } from './readings.ts';
import type { Results } from './results.ts';
import type { Runs } from './runs.ts';
import type { Sessions } from './sessions.ts';
import type { SettingsRecord } from './settings.ts';
import type { Tallies } from './tallies.ts';

/** What the store is given from outside. */
export interface StoreOptions {
  /** Milliseconds since 1970 by the wall clock; may step. */
  readonly wallNow: (this: void) => number;
  /** Kept with every migration, so that a record tells which program last changed its shape. */
  readonly programVersion: string;
  /** Numbered from 1; left out, the program's own. */
  readonly migrations?: readonly string[];
  /** Opens the connection that records; left out, better-sqlite3 at its defaults. */
  readonly connect?: (this: void, file: string) => Database.Database;
}

/** What was found and done when the record was opened. */
export interface Opening {
  /** The file was not there before. */
  readonly isNew: boolean;
  /** The version that the file had and the copy that was made of it, when it was brought up to date; else null. */
  readonly migratedFrom: { readonly version: number; readonly copy: string } | null;
  /** Runs that had no end: the program stopped in the middle of them. They are marked `interrupted` now. */
  readonly interruptedRunIds: readonly number[];
  /** The guard's last state before this start; null when there was none. */
  readonly lastGuard: RecordEvent | null;
}

/**
 * The record on disk, held by one program at a time.
 *
 * Everything that changes the record is one transaction, is on disk when it returns, and answers with an `Outcome`:
 * after a failure nothing of it is in the record and the store can be used as before. `disk-full` can come from every
 * change, also from the end of a run. What only reads answers at once. A record that was tampered with so that a row no
 * longer fits its schema, and any call after `close`, throw.
 */
export interface Store {
  /** The folder that is held. */
  readonly folder: string;
  /** The file of the record, for copies and for the jobs worker's own connection. */
  readonly file: string;
  readonly opening: Opening;
  readonly cores: Cores;
  readonly builds: Builds;
  readonly needs: Needs;
  readonly plans: Plans;
  readonly tallies: Tallies;
  readonly meters: Meters;
  readonly settings: SettingsRecord;
  readonly sessions: Sessions;
  readonly runs: Runs;
  readonly readings: Readings;
  readonly events: Events;
  readonly keptPairs: KeptPairs;
  readonly keptPoints: KeptPoints;
  readonly checks: Checks;
  readonly results: Results;
  /** Closes the record and frees the folder. A second call does nothing. */
  close(): void;
}

/**
 * Opens the record in a folder, making both when they are not there (`openStore` in open-store.ts).
 *
 * The folder is locked before anything else is looked at. Refusals, each with nothing written or changed:
 * `store-held` (another copy of the program has it), `store-newer` (written by a newer version), `store-damaged` (not a
 * record, or not whole), `store-unwritable` (the system does not allow it), `disk-full`.
 */
export type OpenStore = (folder: string, options: StoreOptions) => Outcome<Store>;
