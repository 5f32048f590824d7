import { dirname } from 'node:path';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { assertNever } from '../../src-shared/quantity/assert-never.ts';
import { fileFailure } from '../export/file-failure.ts';
import { writeBuildSheet } from '../export/write-build-sheet.ts';
import { writeComparison } from '../export/write-comparison.ts';
import { writeCsv } from '../export/write-csv.ts';
import { writeSheet } from '../export/write-sheet.ts';
import { systemFailure } from '../store/change.ts';
import { openReader, type RecordReader } from '../store/read-record.ts';
import type { Job, MadeFile, Order } from './job.ts';
import { CalledOff, type Progress } from './progress.ts';

function carryOutOn(reader: RecordReader, job: Job, progress: Progress): MadeFile | null {
  switch (job.what) {
    case 'readings-csv':
      return writeCsv(reader, job.runId, job.to, progress);
    case 'run-sheet':
      return writeSheet(reader, job.runId, job.to, job.made, progress);
    case 'comparison-sheet':
      return writeComparison(reader, job, job.to, job.made, progress);
    case 'build-sheet':
      return writeBuildSheet(reader, job, job.to, job.made, progress);
    default:
      return assertNever(job);
  }
}

/** What a job asks for and the record has not. */
function missing(job: Job): string {
  switch (job.what) {
    case 'readings-csv':
    case 'run-sheet':
      return `There is no run ${job.runId} in the record.`;
    case 'comparison-sheet':
      return 'One of these two builds is not in the record.';
    case 'build-sheet':
      return `There is no plan ${job.planId} in the record, or no such version of it.`;
    default:
      return assertNever(job);
  }
}

/** An expected failure of the system as one of the contract; null when it is a bug. */
function failureOf(error: unknown, folder: string): Outcome<never> | null {
  if (error instanceof CalledOff) return failed('cancelled', 'It was called off. Nothing of it is kept.');
  const ofRecord = systemFailure(error);
  if (ofRecord !== null) return ofRecord;
  return fileFailure(error, folder);
}

/**
 * Does one job with a connection of its own, from one moment of the record. `not-found` for what is not in the record;
 * `cancelled`; `disk-full`, `store-unwritable`, `store-damaged`, `busy` by what the system says. Throws on bugs.
 */
export function carryOut({ record, job }: Omit<Order, 'flag'>, progress: Progress): Outcome<MadeFile> {
  try {
    progress(0);
    const reader = openReader(record);
    try {
      const made = reader.together((parts) => carryOutOn(parts, job, progress));
      return made === null ? failed('not-found', missing(job)) : done(made);
    } finally {
      reader.close();
    }
  } catch (error) {
    const failure = failureOf(error, dirname(job.to));
    if (failure === null) throw error;
    return failure;
  }
}
