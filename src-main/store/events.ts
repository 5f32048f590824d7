import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { RecordEvent } from '../../src-shared/record/run.ts';

/** What happened, in the order of the numbers. Written alone here, or with readings by `readings.writeBatch`. */
export interface Events {
  /** A number for the next event, above every one in the record and never given twice by this store. */
  nextId(): number;
  /** Writes one event at once, numbered by the store. `not-found` for a session or run that is not there; `session-signed`. */
  add(event: Omit<RecordEvent, 'eventId' | 'wallMs'>): Outcome<RecordEvent>;
  get(eventId: number): RecordEvent | null;
  /** Oldest first. */
  ofRun(runId: number): readonly RecordEvent[];
  /** Oldest first, those of its runs included. */
  ofSession(sessionId: number): readonly RecordEvent[];
  /** The last written state of the guard (`eventKind.guard`); null when there is none. */
  lastGuard(): RecordEvent | null;
}
