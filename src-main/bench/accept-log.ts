import { openSync, writeSync } from 'node:fs';

/** Told of every reading at the instant it was accepted: its number and the monotonic time. */
export type AcceptLog = (readingId: number, monoMs: number) => void;

/**
 * A log of accepted readings that outlives a kill: one line each, handed to the system before the next step. It exists
 * so that what a killed program lost can be measured from outside; without a path nothing is logged.
 */
export function openAcceptLog(path: string | undefined): AcceptLog {
  if (path === undefined) return () => undefined;
  const file = openSync(path, 'a');
  return (readingId, monoMs) => {
    writeSync(file, `${readingId} ${monoMs.toFixed(3)}\n`);
  };
}
