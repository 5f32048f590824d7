import * as v from 'valibot';
import { recordId } from '../record/field.ts';
import { ChannelExtras } from '../record/run.ts';

/** Who fills a channel of a set-up: a meter (or the keyboard, itself a described meter), its range locked or not. */
export const ChannelChoice = v.strictObject({
  channel: v.string(),
  meterId: recordId,
  lockedRange: v.nullable(v.pipe(v.number(), v.safeInteger(), v.minValue(0))),
  /** It sends by itself, but its line is lost or not joined: somebody reads it and types. */
  byEye: v.optional(v.literal(true)),
  ...ChannelExtras.entries,
});
export type ChannelChoice = v.InferOutput<typeof ChannelChoice>;
