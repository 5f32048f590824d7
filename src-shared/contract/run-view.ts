import * as v from 'valibot';
import { Answers, KeptPair, KeptPoint, KeptValue, RecordEvent, Result, Run } from '../record/run.ts';
import { Session } from '../record/session.ts';

/** A run with everything its page shows. */
export const RunWhole = v.strictObject({
  run: Run,
  session: Session,
  kept: v.array(KeptPair),
  points: v.array(KeptPoint),
  /** What was answered at set-up. */
  answers: Answers,
  events: v.array(RecordEvent),
  results: v.array(Result),
  /** What the run comes to so far: the answer of its calculation; null while nothing can be worked out. */
  soFar: v.nullable(v.unknown()),
  /** Answers that follow besides: other points, the winding after the core, a temperature from a resistance. */
  besides: v.array(v.unknown()),
  /** What is missing before anything can be worked out; null when something was. */
  waitingFor: v.nullable(v.string()),
  /** With one meter that is moved: values kept towards the next pair or point, in order. */
  towardsNext: v.array(KeptValue),
});
export type RunWhole = v.InferOutput<typeof RunWhole>;
