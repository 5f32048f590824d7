import * as v from 'valibot';
import { monoMs, recordId, wallMs, words } from './field.ts';

/** What few channels have: part of one run, not of the meter. Absent is the usual. */
export const ChannelExtras = v.strictObject({
  /** Which of the meter's values, where a line of it carries several. */
  value: v.optional(words('Value of the meter', 40)),
  /** How often the wire passes through the meter's clamp: the readings are what it shows divided by this. */
  passes: v.optional(
    v.pipe(
      v.number('Passes must be a whole number.'),
      v.safeInteger('Passes must be a whole number.'),
      v.minValue(2, 'Passes through the clamp: 2 at least; once is the usual.'),
      v.maxValue(100, 'Passes through the clamp: at most 100.'),
    ),
  ),
});
export type ChannelExtras = v.InferOutput<typeof ChannelExtras>;

/** Who fills a channel, with the meter's description as it was then. */
export const ChannelFiller = v.strictObject({
  meterId: recordId,
  meterRevisionId: recordId,
  /** Index of the locked range in the meter's description; null while the meter chooses by itself. */
  lockedRange: v.nullable(v.pipe(v.number(), v.safeInteger(), v.minValue(0))),
  ...ChannelExtras.entries,
});
export type ChannelFiller = v.InferOutput<typeof ChannelFiller>;

/** Another reader of a channel, from an instant of the run on. */
export const TakeOver = v.strictObject({
  /** In ms since the start of the run. */
  fromMs: v.pipe(v.number(), v.finite()),
  /** The meter's own line is not what is read: somebody reads it and types. */
  byEye: v.optional(v.literal(true)),
  ...ChannelFiller.entries,
});
export type TakeOver = v.InferOutput<typeof TakeOver>;

/** A channel of a run, and who filled it from the start. */
export const RunChannel = v.strictObject({
  /** Channel id of the procedure, such as `primary-volts`. */
  channel: v.string(),
  /** The unit its readings are kept in, such as `V`. */
  unit: v.string(),
  ...ChannelFiller.entries,
  /** Who took it over since, in order; absent when nobody did. */
  takenOver: v.optional(v.array(TakeOver)),
});
export type RunChannel = v.InferOutput<typeof RunChannel>;

/** How many times faster than the clock simulated time goes. */
export const TimeFactor = v.pipe(v.number(), v.finite(), v.minValue(1));

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
  /** How many times faster than the clock its time goes, where that is simulated: absent is 1. Practice alone. */
  timeFactor: v.optional(TimeFactor),
});
export type Run = v.InferOutput<typeof Run>;

/** Kinds of event that the record itself reads. Every other kind is the business of whoever writes it. */
export const eventKind = {
  /** Body: the guard's whole state after the step. The last of these is shown after a restart. */
  guard: 'guard',
  /** Body: the kept pair, without its event id and its withdrawal. */
  pairKept: 'pair-kept',
  /** Body: `{ channel }` with what few channels have, such as passes through a clamp. Written with the run. */
  channelExtras: 'channel-extras',
  /** Body: `{ channel, text }` of a channel that was added in the middle of a run. */
  channelAdded: 'channel-added',
  /** Body: who took a channel over (`ChannelTakenOver`), at the instant of the event. */
  channelTakenOver: 'channel-taken-over',
  /** Body: `{ eventId, reason }` of the pair that counts no more. */
  pairWithdrawn: 'pair-withdrawn',
  /** Body: the kept point, without its event id and its withdrawal. */
  pointKept: 'point-kept',
  /** Body: `{ eventId, reason }` of the point that counts no more. */
  pointWithdrawn: 'point-withdrawn',
  /** Body: `{ factor }`, in a practised run whose time is simulated. Written with the run. */
  simulatedTime: 'simulated-time',
  /** Body: what became of a lesson (`LessonMark`). Belongs to no session. */
  lesson: 'lesson',
  /** Body: what was answered at set-up, and when power was declared on, if it was on already (`RunSetUp`). */
  runSetUp: 'run-set-up',
  /** Body: `{ byMs, text }`: the computer's time was set by so much; lengths of time are not touched by it. */
  clockSet: 'clock-set',
  /** Body: how the practice bench truly was in the run from then on (`PracticeTruth`), with a sentence that tells no secret. */
  practiceBench: 'practice-bench',
  /** Body: how the practice bench was left (`PracticeLeft`), for the next start. Belongs to no session. */
  practiceLeft: 'practice-left',
  /** Body: `{ text }`: what was hidden in the run, once the person had asked. */
  practiceTold: 'practice-told',
} as const;

/** The body of a take-over: of which channel, by whom, and what is told of it, as it was when it happened. */
export const ChannelTakenOver = v.strictObject({
  channel: v.string(),
  filler: v.strictObject({ byEye: v.optional(v.literal(true)), ...ChannelFiller.entries }),
  text: v.string(),
});
export type ChannelTakenOver = v.InferOutput<typeof ChannelTakenOver>;

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

/** What a person says beside the readings: numbers and words by the id of the question. */
export const Answers = v.record(
  v.pipe(v.string(), v.maxLength(40)),
  v.union([v.pipe(v.number(), v.finite()), v.pipe(v.string(), v.maxLength(200))]),
);

/** What was answered at set-up. `poweredAtMs`, on the clock of the run's start, only when power was on before it. */
export const RunSetUp = v.strictObject({ answers: Answers, poweredAtMs: v.nullable(monoMs) });
export type RunSetUp = v.InferOutput<typeof RunSetUp>;

/** The settled values of a procedure's channels at one moment, with the procedure's own fields. */
export const KeptPoint = v.strictObject({
  eventId: recordId,
  /** From the start of the run. */
  atMs: v.pipe(v.number(), v.finite()),
  values: v.array(KeptValue),
  fields: Answers,
  /** Withdrawn afterwards, and why; null while it counts. */
  withdrawn: v.nullable(v.string()),
});
export type KeptPoint = v.InferOutput<typeof KeptPoint>;

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
