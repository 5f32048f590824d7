import { nothingFilled, type Filling } from '../../src-shared/record/bucket.ts';

/** What the store remembers of a run while it is open, so that a batch needs no question to the database. */
export interface OpenRun {
  readonly runId: number;
  readonly startedWallMs: number;
  readonly practice: boolean;
  /** By the channel's index: when its last reading was, and how far its buckets are filled. */
  readonly channels: readonly ChannelProgress[];
}

export interface ChannelProgress {
  readonly lastUs: number;
  readonly filling: Filling;
}

/** The runs that take readings, by their number. */
export type OpenRuns = Map<number, OpenRun>;

const untouched = (channels: number): readonly ChannelProgress[] =>
  Array.from({ length: channels }, () => ({ lastUs: 0, filling: nothingFilled }));

/** A run that has no reading yet. */
export const freshRun = (runId: number, startedWallMs: number, practice: boolean, channels: number): OpenRun => ({
  runId,
  startedWallMs,
  practice,
  channels: untouched(channels),
});

/** The same run with so many channels more. */
export const grownRun = (run: OpenRun, more: number): OpenRun => ({
  ...run,
  channels: [...run.channels, ...untouched(more)],
});
