import * as v from 'valibot';
import { monoMs, recordId, wallMs } from './field.ts';

/** One line of a checklist at one moment: confirmed by somebody or by the program, passed over, or lapsed. */
export const CheckMark = v.strictObject({
  sessionId: recordId,
  /** The run that was open at that moment; null outside a run. */
  runId: v.nullable(recordId),
  /** The line of the checklist, such as `pd-plug`. */
  checkId: v.string(),
  mark: v.picklist(['confirmed', 'seen-by-program', 'passed-over', 'lapsed']),
  who: v.string(),
  /** Why it lapsed or was passed over; null for the others. */
  reason: v.nullable(v.string()),
  wallMs,
  monoMs,
});
export type CheckMark = v.InferOutput<typeof CheckMark>;
