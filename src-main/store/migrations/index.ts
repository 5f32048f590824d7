import record from './001-record.sql?raw';
import appendOnly from './002-append-only.sql?raw';
import closed from './003-closed.sql?raw';
import plans from './004-plans.sql?raw';

/** The shape of the record, version by version: the first brings an empty file to version 1. Added to, never edited. */
export const migrations: readonly string[] = [record, appendOnly, closed, plans];
