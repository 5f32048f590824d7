import { existsSync } from 'node:fs';
import { join } from 'node:path';

/** Beside this file among the sources; beside the entry, or above the folder of shared pieces, when built. */
const places = ['jobs-worker.ts', 'jobs-worker.js', '../jobs-worker.js'];

/** The file that the jobs worker is started from. Throws when the program was built without it. */
export function workerFile(): string {
  const found = places.map((place) => join(import.meta.dirname, place)).find(existsSync);
  if (found === undefined) throw new Error(`The jobs worker is missing beside ${import.meta.dirname}. Build it again.`);
  return found;
}
