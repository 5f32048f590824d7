import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { CheckMark } from '../../src-shared/record/check.ts';
import type { HistoryColumns, Reading } from '../../src-shared/record/reading.ts';
import type { RecordEvent } from '../../src-shared/record/run.ts';

/** What is written together or not at all. */
export interface Batch {
  /** In the order in which they were accepted: `readingId` rises, and `atMs` never falls within a channel. */
  readonly readings: readonly Reading[];
  /** `eventId` rises. */
  readonly events: readonly RecordEvent[];
  readonly checks?: readonly CheckMark[];
}

/** What part of a channel is asked for, and on how many pixels it is drawn. */
export interface HistoryView {
  readonly runId: number;
  readonly channel: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly pixels: number;
}

/** The readings of the runs, with their closed buckets. */
export interface Readings {
  /** A number for the next reading, above every one in the record and never given twice by this store. */
  nextId(): number;
  /**
   * Writes the batch in one transaction, buckets included. After a failure nothing of it is in the record: keep the
   * batch and write it again. `disk-full`; `no-run` for a reading of a run that is not open; `bad-input` for one that
   * is not finite, out of order or of no channel of the run, `session-signed` for an event of a signed session.
   */
  writeBatch(batch: Batch): Outcome<{ readonly readings: number; readonly events: number }>;
  /**
   * A view of what has been written of a channel: at most four points a pixel, the lowest and highest reading of every
   * pixel among them; a null value where a reading was no number or the meter was silent for long. `readings` counts
   * the numbers and gaps it stands for; `rowsRead` is at most eight a pixel (of at least 32 pixels). `not-found`.
   */
  history(view: HistoryView): Outcome<HistoryColumns>;
  get(readingId: number): Reading | null;
  /** The last written readings of a channel, oldest first, at most `count`. */
  last(runId: number, channel: number, count: number): readonly Reading[];
  /** Every written reading of a run in the order of acceptance, read a thousand at a time. */
  ofRun(runId: number): Iterable<Reading>;
}
