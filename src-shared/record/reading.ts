import * as v from 'valibot';

/** What a reading is: a number, beyond the meter's range, or a line that could not be read. */
export const readingKinds = ['number', 'overload', 'unreadable'] as const;
export type ReadingKind = (typeof readingKinds)[number];

/** Where a reading came from. */
export const readingOrigins = ['meter', 'keyboard', 'practice'] as const;
export type ReadingOrigin = (typeof readingOrigins)[number];

export const couplings = ['ac', 'dc', 'ac+dc'] as const;
export type Coupling = (typeof couplings)[number];

/** One reading as the record keeps it. Numbers are finite; a reading that is not a number has a null value. */
export interface Reading {
  readonly readingId: number;
  readonly runId: number;
  /** Index of its channel in the run's `channels`. */
  readonly channel: number;
  /** Milliseconds since the start of the run on the clock that never steps; kept to the microsecond. */
  readonly atMs: number;
  /** By the wall clock, which may step; kept to the millisecond. */
  readonly wallMs: number;
  readonly kind: ReadingKind;
  /** In the unit of the run's channel; null unless the kind is number. */
  readonly value: number | null;
  readonly coupling: Coupling | null;
  /** What one step of the last digit is worth, in the unit of the channel; null when it is not known. */
  readonly resolution: number | null;
  /** The text as the meter sent it, or the person typed it. */
  readonly text: string;
  readonly origin: ReadingOrigin;
  /** Index of the range in the meter's description; null when none fits or it is not known. */
  readonly rangeIndex: number | null;
  /** The range was held by hand, not chosen by the meter. */
  readonly rangeLocked: boolean;
  /** Accepted while the run was tripped. */
  readonly tripped: boolean;
  /** Below the part of its range where the meter can be trusted. */
  readonly bottomOfRange: boolean;
}

/**
 * Readings of one channel as columns of equal length, oldest first.
 * `atMs` counts from the start of the run on the clock that never steps; `value` is null unless the kind is a number.
 */
export const ReadingColumns = v.strictObject({
  runId: v.number(),
  channel: v.string(),
  atMs: v.array(v.number()),
  kind: v.array(v.picklist(readingKinds)),
  value: v.array(v.nullable(v.number())),
  /** Standard uncertainty by the meter's description; null when the description does not tell. */
  u: v.array(v.nullable(v.number())),
  unit: v.string(),
  /** The text as the meter sent it, or the person typed it. */
  text: v.array(v.string()),
});
export type ReadingColumns = v.InferOutput<typeof ReadingColumns>;

/**
 * A view of a channel's history: at most four points a pixel, as columns.
 * A point stands for one reading or for the lowest, highest, first or last of many; gaps carry a null value.
 */
export const HistoryColumns = v.strictObject({
  runId: v.number(),
  channel: v.string(),
  atMs: v.array(v.number()),
  value: v.array(v.nullable(v.number())),
  /** How many readings the view stands for, and how many rows were read to draw it. */
  readings: v.number(),
  rowsRead: v.number(),
});
export type HistoryColumns = v.InferOutput<typeof HistoryColumns>;
