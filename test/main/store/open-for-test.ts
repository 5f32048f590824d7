import Database from 'better-sqlite3';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { openStore } from '../../../src-main/store/open-store.ts';
import type { Store, StoreOptions } from '../../../src-main/store/store.ts';
import { value, wallClock } from './furnish.ts';

/** A folder of its own for a test, gone afterwards. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'turnwright-store-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Opens the record of a folder; closed after the test when it still is open. */
export function opened(folder: string, options: Partial<StoreOptions> = {}): Store {
  const store = value(openStore(folder, { wallNow: wallClock(), programVersion: '0.1.0', ...options }));
  onTestFinished(() => store.close());
  return store;
}

/** A record in a folder of its own, with the connection that it writes by. */
export function openedWithConnection(options: Partial<StoreOptions> = {}) {
  const folder = temporaryFolder();
  const connections: Database.Database[] = [];
  const store = opened(folder, {
    ...options,
    connect: (file) => {
      const connection = new Database(file);
      connections.push(connection);
      return connection;
    },
  });
  const [connection] = connections;
  if (connection === undefined) throw new Error('The store made no connection.');
  return { folder, store, connection };
}
