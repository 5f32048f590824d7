import * as v from 'valibot';
import { MeterDescription } from '../meter/description.ts';
import { recordId, wallMs } from '../record/field.ts';
import { readingKinds, readingOrigins } from '../record/reading.ts';

/** The last thing a meter said, for the screen. `atMs` is on the program's monotonic clock. */
export const LastReading = v.strictObject({
  atMs: v.number(),
  kind: v.picklist(readingKinds),
  value: v.nullable(v.number()),
  u: v.nullable(v.number()),
  unit: v.string(),
  coupling: v.nullable(v.picklist(['ac', 'dc', 'ac+dc'])),
  text: v.string(),
  origin: v.picklist(readingOrigins),
  /** Index of the range the uncertainty was taken from; null when the description has none that fits. */
  rangeIndex: v.nullable(v.number()),
  bottomOfRange: v.boolean(),
});
export type LastReading = v.InferOutput<typeof LastReading>;

const meterStatuses = ['off', 'connecting', 'answering', 'silent', 'lost', 'failed', 'keyboard'] as const;

/** Whether what a meter says has settled, by the one stated rule; the page only shows it. */
export const Settling = v.strictObject({
  isSettled: v.boolean(),
  /** For how long it has been settled, in s; 0 while it is not. */
  seconds: v.number(),
  /** Why it is settled or not, as a sentence. */
  sentence: v.string(),
});
export type Settling = v.InferOutput<typeof Settling>;

/** A meter as it is at this moment. */
export const MeterState = v.strictObject({
  meterId: recordId,
  status: v.picklist(meterStatuses),
  /** Closed code of why, when it is not answering. */
  why: v.nullable(v.string()),
  sentence: v.string(),
  sinceMs: v.number(),
  last: v.nullable(LastReading),
  /** The channel of the set-up that it fills, or, when one meter is moved, the one it is on; null when none. */
  channel: v.nullable(v.string()),
  /** Null while it fills no channel, or nothing was heard on it. */
  settling: v.nullable(Settling),
  /** For a meter whose lines carry several values: every channel that it fills, each with its own. Else absent. */
  byChannel: v.optional(
    v.array(v.strictObject({ channel: v.string(), last: v.nullable(LastReading), settling: v.nullable(Settling) })),
  ),
});
export type MeterState = v.InferOutput<typeof MeterState>;

/** A meter as described, and as it is now. */
export const MeterWhole = v.strictObject({
  meterId: recordId,
  revisionId: recordId,
  wallMs,
  description: MeterDescription,
  state: MeterState,
});
export type MeterWhole = v.InferOutput<typeof MeterWhole>;

/** What a meter said last on one of its channels, and whether that has settled. */
export const onChannel = (
  state: Pick<MeterState, 'last' | 'settling' | 'byChannel'>,
  channel: string,
): Pick<MeterState, 'last' | 'settling'> => state.byChannel?.find((one) => one.channel === channel) ?? state;

/** A port that the system lists. */
export const PortInfo = v.strictObject({
  path: v.string(),
  /** What names the adapter for good (by-id path or serial number); null when there is no such name. */
  identity: v.nullable(v.string()),
  label: v.string(),
});
export type PortInfo = v.InferOutput<typeof PortInfo>;
