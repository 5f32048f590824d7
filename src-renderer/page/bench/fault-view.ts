import type { RequestValue } from '../../../src-shared/contract/request.ts';
import type { FaultReading } from '../../../src-shared/fault/fault-reading.ts';
import { faultsOfRun } from '../../../src-shared/fault/run-faults.ts';
import type { Build } from '../../../src-shared/record/build.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';
import type { Result } from '../../../src-shared/record/run.ts';

/** The core on the bench, and everything that was kept of it. */
export interface OnBench {
  readonly core: { readonly fields: CoreFields };
  readonly results: readonly Result[];
}

/** What the readings of the run on the bench say against what was expected. */
export const faultReadings = (
  record: Pick<RequestValue<'run.get'>, 'run' | 'session' | 'answers' | 'points' | 'kept'>,
  build: Build | null,
  onBench: OnBench | null,
): readonly FaultReading[] =>
  build === null
    ? []
    : faultsOfRun({ ...record, build, core: onBench?.core.fields ?? null, results: onBench?.results ?? [] });
