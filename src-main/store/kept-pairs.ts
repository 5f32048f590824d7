import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { KeptPair } from '../../src-shared/record/run.ts';

/** A pair about to be kept. The readings that it names must have been written before. */
export type NewPair = Omit<KeptPair, 'eventId' | 'withdrawn'>;

/** The pairs of voltages kept for the turns. Each is an event; so is its withdrawal. */
export interface KeptPairs {
  /** `not-found` for a run or reading that is not there; `session-signed`. */
  keep(runId: number, monoMs: number, pair: NewPair): Outcome<KeptPair>;
  /** The pair counts no more; it stays in the record. `not-found`, also when it was withdrawn before; `session-signed`. */
  withdraw(eventId: number, monoMs: number, reason: string): Outcome<KeptPair>;
  get(eventId: number): KeptPair | null;
  /** All pairs of the run, withdrawn ones included, in the order in which they were kept. */
  ofRun(runId: number): readonly KeptPair[];
}
