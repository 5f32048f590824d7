import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Run, RunChannel } from '../../src-shared/record/run.ts';

/** A run about to start. */
export interface NewRun {
  readonly sessionId: number;
  readonly procedure: string;
  /** In the order that readings name them by. */
  readonly channels: readonly RunChannel[];
  /** Any channel is filled by practice: the whole run is practice for good. A practice session makes it so too. */
  readonly practice: boolean;
  readonly startedMonoMs: number;
}

/** The runs. At most one is open. */
export interface Runs {
  /**
   * Starts a run; its start by the wall clock is now. `not-found` for a session or meter that is not there;
   * `session-closed`; `run-open` while another run is open; `bad-input` when a channel is named twice.
   */
  start(run: NewRun): Outcome<Run>;
  /**
   * Ends the run, now, after everything that was accepted has been written: later readings of it are refused.
   * `tripped` says that it was tripped before it was ended. `not-found`; `no-run` when it was ended before.
   */
  end(runId: number, ending: 'ended' | 'tripped'): Outcome<Run>;
  /** The run that is open; null when none is. */
  current(): Run | null;
  get(runId: number): Run | null;
  /** In the order in which they were started. */
  ofSession(sessionId: number): readonly Run[];
  ofCore(coreId: number): readonly Run[];
}
