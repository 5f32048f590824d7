import type { Push } from '../../src-shared/contract/push.ts';
import type { Store } from '../store/store.ts';
import type { BatchWriter } from './batch.ts';
import type { Clock } from './clock.ts';
import type { GuardKeeper } from './guard-keeper.ts';
import type { Log } from './log.ts';
import type { Recorder } from './recorder.ts';

/** What the bench is made of. */
export interface BenchParts {
  readonly store: Store;
  readonly clock: Clock;
  readonly guard: GuardKeeper;
  readonly batch: BatchWriter;
  readonly recorder: Recorder;
  readonly log: Pick<Log, 'event'>;
  readonly push: (push: Push) => void;
  /** How many times faster than the clock practised time goes now; 1 for time as it is. */
  readonly timeFactor: () => number;
  /** Told when what a meter said, or what it fills, has changed. */
  readonly onMeter: (meterId: number) => void;
  /** Told when a run has begun. */
  readonly onRun: () => void;
}
