import * as v from 'valibot';
import { FaultReading } from '../fault/fault-reading.ts';
import { MeterDescription } from '../meter/description.ts';
import { Build } from '../record/build.ts';
import { CheckMark } from '../record/check.ts';
import { Core } from '../record/core.ts';
import { readingKinds, readingOrigins } from '../record/reading.ts';
import { Answers, KeptPair, KeptPoint, Result, Run } from '../record/run.ts';
import { Session, SessionRevision, SignOff } from '../record/session.ts';

const finite = v.pipe(v.number(), v.finite());

/** Something that happened in a run, as it is drawn and listed. */
export const Happening = v.strictObject({
  /** Number of its event in the record. */
  eventId: v.number(),
  kind: v.picklist(['power', 'note', 'kept', 'trip', 'point']),
  /** Milliseconds since the start of the run, by the clock that never steps. */
  atMs: finite,
  wallMs: finite,
  /** What is written at its mark. */
  word: v.string(),
  /** The whole of it, as a sentence. */
  text: v.string(),
});
export type Happening = v.InferOutput<typeof Happening>;

/** The bounds of one channel for as long as they stood, in its unit and in ms since the start of the run. */
export const LimitSpan = v.strictObject({
  channel: v.string(),
  min: v.nullable(finite),
  max: v.nullable(finite),
  warn: v.nullable(finite),
  fromMs: finite,
  /** Null: to the end of the run. */
  toMs: v.nullable(finite),
});
export type LimitSpan = v.InferOutput<typeof LimitSpan>;

/** How many readings of a channel there are, and how many of them are no numbers. */
export const ChannelCount = v.strictObject({
  readings: v.number(),
  overloads: v.number(),
  unreadables: v.number(),
  lowest: v.nullable(finite),
  highest: v.nullable(finite),
  mean: v.nullable(finite),
});
export type ChannelCount = v.InferOutput<typeof ChannelCount>;

/** Everything that is told of a run beside its readings: what its page and its sheet are made from. */
export const RunFacts = v.strictObject({
  run: Run,
  session: Session,
  core: Core,
  build: Build,
  /** The description, as it was in the run, of what filled each channel; in the order of the run's channels. */
  meters: v.array(MeterDescription),
  /** The same of whoever took each channel over, in the order of its take-overs; empty where nobody did. */
  takers: v.array(v.array(MeterDescription)),
  /** In the order of the run's channels. */
  counts: v.array(ChannelCount),
  /** Milliseconds from the start to the last reading; 0 without any. */
  lastMs: finite,
  kept: v.array(KeptPair),
  points: v.array(KeptPoint),
  /** What was answered at set-up. */
  answers: Answers,
  /** What its readings say against what was expected. */
  faults: v.array(FaultReading),
  happenings: v.array(Happening),
  limits: v.array(LimitSpan),
  results: v.array(Result),
  /** The latest mark of each line of the checklists up to the end of the run. */
  checks: v.array(CheckMark),
  signOff: v.nullable(SignOff),
  /** Everything that was said of the session, oldest first; the last is what stands. */
  saidOfSession: v.array(SessionRevision),
});
export type RunFacts = v.InferOutput<typeof RunFacts>;

/** The reading of a channel that lies nearest to an instant, with its uncertainty by the meter's description. */
export const NearestReading = v.strictObject({
  channel: v.string(),
  unit: v.string(),
  atMs: finite,
  kind: v.picklist(readingKinds),
  value: v.nullable(finite),
  u: v.nullable(finite),
  text: v.string(),
  origin: v.picklist(readingOrigins),
});
export type NearestReading = v.InferOutput<typeof NearestReading>;
