import * as v from 'valibot';
import { monoMs, recordId, wallMs } from './field.ts';

/** Who fills a channel in a run, with the meter's description as it was then. */
export const RunChannel = v.strictObject({
  /** Channel id of the procedure, such as `primary-volts`. */
  channel: v.string(),
  /** The unit its readings are kept in, such as `V`. */
  unit: v.string(),
  meterId: recordId,
  meterRevisionId: recordId,
  /** Index of the locked range in the meter's description; null while the meter chooses by itself. */
  lockedRange: v.nullable(v.pipe(v.number(), v.safeInteger(), v.minValue(0))),
});
export type RunChannel = v.InferOutput<typeof RunChannel>;

const runEndings = ['running', 'ended', 'tripped', 'interrupted'] as const;

export const Run = v.strictObject({
  runId: recordId,
  sessionId: recordId,
  buildId: recordId,
  procedure: v.string(),
  channels: v.array(RunChannel),
  startedWallMs: wallMs,
  /** The monotonic instant of the start in the program's life that made the run. */
  startedMonoMs: monoMs,
  endedWallMs: v.nullable(wallMs),
  ending: v.picklist(runEndings),
  practice: v.boolean(),
});
export type Run = v.InferOutput<typeof Run>;

/** Kinds of event that the record itself reads. Every other kind is the business of whoever writes it. */
export const eventKind = {
  /** Body: the guard's whole state after the step. The last of these is shown after a restart. */
  guard: 'guard',
  /** Body: the kept pair, without its event id and its withdrawal. */
  pairKept: 'pair-kept',
  /** Body: `{ eventId, reason }` of the pair that counts no more. */
  pairWithdrawn: 'pair-withdrawn',
} as const;

/** What is joined to an instant of a session: a guard event, a kept pair, a note, a mark, a status of a meter. */
export const RecordEvent = v.strictObject({
  eventId: recordId,
  sessionId: v.nullable(recordId),
  runId: v.nullable(recordId),
  wallMs,
  monoMs,
  kind: v.string(),
  body: v.unknown(),
});
export type RecordEvent = v.InferOutput<typeof RecordEvent>;

/** One quantity of a kept pair: the mean of the readings it came from, as an estimate, with its source. */
export const KeptValue = v.strictObject({
  channel: v.string(),
  value: v.pipe(v.number(), v.finite()),
  u: v.nullable(v.pipe(v.number(), v.finite(), v.minValue(0))),
  shape: v.picklist(['normal', 'rectangular', 'triangular']),
  /** Degrees of freedom; null is infinite. */
  dof: v.nullable(v.pipe(v.number(), v.finite())),
  shared: v.nullable(v.strictObject({ id: v.string(), u: v.pipe(v.number(), v.finite(), v.minValue(0)) })),
  unit: v.string(),
  readingIds: v.array(recordId),
  meterId: recordId,
  rangeIndex: v.nullable(v.number()),
  bottomOfRange: v.boolean(),
});
export type KeptValue = v.InferOutput<typeof KeptValue>;

/** A pair of voltages kept for the turns: coil turns, both volts, and whether the meters were exchanged. */
export const KeptPair = v.strictObject({
  eventId: recordId,
  coilTurns: v.number(),
  swapped: v.boolean(),
  order: v.picklist(['together', 'primary-coil-primary']),
  primary: KeptValue,
  coil: KeptValue,
  /** With one meter: how far the primary volts drifted between the two readings, in V. */
  driftVolts: v.nullable(v.number()),
  /** Withdrawn afterwards, and why; null while it counts. */
  withdrawn: v.nullable(v.string()),
});
export type KeptPair = v.InferOutput<typeof KeptPair>;

/** A derived quantity kept for good: which calculation and version, from which run, input and output as they were. */
export const Result = v.strictObject({
  resultId: recordId,
  buildId: recordId,
  runId: v.nullable(recordId),
  calculation: v.string(),
  version: v.number(),
  wallMs,
  input: v.unknown(),
  output: v.unknown(),
});
export type Result = v.InferOutput<typeof Result>;
