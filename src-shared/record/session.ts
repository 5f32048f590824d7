import * as v from 'valibot';
import { between, note, recordId, wallMs, words } from './field.ts';

export const supplyKinds = [
  'isolated-low-voltage',
  'mains',
  'mains-through-lamp',
  'variable-transformer',
  'isolating-transformer',
] as const;
export type SupplyKind = (typeof supplyKinds)[number];

/** What feeds the bench. Volts are the highest that it can give. */
export const Supply = v.strictObject({
  kind: v.picklist(supplyKinds, 'Supply must be one of the list. Electronic supplies and dimmers are not accepted.'),
  volts: between(0.1, 1000, 'Supply volts'),
  hertz: v.picklist([50, 60], 'Hertz must be 50 or 60.'),
  /** What it can give at most, in A; unknown when absent. */
  ampsAtMost: v.optional(between(0.001, 200, 'Supply amps')),
  earthed: v.picklist(['earthed', 'floating', 'not-known'], 'Earthed must be earthed, floating or not known.'),
  rcd: v.picklist(['yes', 'no', 'not-known'], 'RCD must be yes, no or not known.'),
  fuseAmps: v.optional(between(0.01, 100, 'Fuse amps')),
});
export type Supply = v.InferOutput<typeof Supply>;

export const SessionFields = v.strictObject({
  buildId: recordId,
  supply: Supply,
  /** Which winding the supply feeds. */
  fedWindingId: v.nullable(recordId),
  ambientCelsius: v.optional(between(-30, 60, 'Ambient temperature')),
  who: words('Who', 60),
  note: v.optional(note('Note')),
});
export type SessionFields = v.InferOutput<typeof SessionFields>;

export const Session = v.strictObject({
  sessionId: recordId,
  openedWallMs: wallMs,
  endedWallMs: v.nullable(wallMs),
  practice: v.boolean(),
  fields: SessionFields,
});
export type Session = v.InferOutput<typeof Session>;

/** What was said of a session at one time. `reason` is null for what was said when it was opened. */
export const SessionRevision = v.strictObject({
  wallMs,
  reason: v.nullable(v.string()),
  fields: SessionFields,
});
export type SessionRevision = v.InferOutput<typeof SessionRevision>;

/** A session closed to change: by whom, when, and the sha-256 over everything it held, as 64 hexadecimal digits. */
export const SignOff = v.strictObject({
  sessionId: recordId,
  who: words('Who', 60),
  wallMs,
  contentHash: v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/)),
});
export type SignOff = v.InferOutput<typeof SignOff>;
