import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Result } from '../../src-shared/record/run.ts';

/** A result about to be kept, with the readings it came from as far as they were picked one by one. */
export type NewResult = Omit<Result, 'resultId' | 'wallMs'> & { readonly readingIds: readonly number[] };

/** Derived quantities kept for good. */
export interface Results {
  /**
   * Keeps the result. `not-found` for a build, run or reading that is not there; `bad-input` when the run was made on
   * another build; `session-signed`.
   */
  keep(result: NewResult): Outcome<Result>;
  get(resultId: number): Result | null;
  /** In the order in which they were kept. */
  ofBuild(buildId: number): readonly Result[];
  ofRun(runId: number): readonly Result[];
  /** The readings that the result came from, as given to `keep`. */
  readingsOf(resultId: number): readonly number[];
}
