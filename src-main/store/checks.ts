import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { CheckMark } from '../../src-shared/record/check.ts';

/** Lines of checklists as they were confirmed, passed over or lapsed. Also written by `readings.writeBatch`. */
export interface Checks {
  /** `not-found` for a session or run that is not there; `session-signed`. */
  add(mark: CheckMark): Outcome<CheckMark>;
  /** In the order in which they were written. */
  ofSession(sessionId: number): readonly CheckMark[];
}
