import * as v from 'valibot';

/** What a reading is: a number, beyond the meter's range, or a line that could not be read. */
export const readingKinds = ['number', 'overload', 'unreadable'] as const;
export type ReadingKind = (typeof readingKinds)[number];

/** Where a reading came from. */
export const readingOrigins = ['meter', 'keyboard', 'practice'] as const;
export type ReadingOrigin = (typeof readingOrigins)[number];

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
