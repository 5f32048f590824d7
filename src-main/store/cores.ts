import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Build, BuildFields } from '../../src-shared/record/build.ts';
import type { Core, CoreFields } from '../../src-shared/record/core.ts';

/** The cores on the shelf. Rows are never changed: a correction is a further row. */
export interface Cores {
  /** Adds a core with its build 1, `as found`. `build` says more about that build than its title when it is known. */
  add(fields: CoreFields, build?: Partial<BuildFields>): Outcome<{ readonly core: Core; readonly build: Build }>;
  /** Writes a row that replaces the core's latest one, with the reason. `not-found` when there is no such core. */
  correct(coreId: number, reason: string, fields: CoreFields): Outcome<Core>;
  /** The latest row of the core; null when there is no such core. */
  get(coreId: number): Core | null;
  /** The latest row of every core, in the order in which they were added. */
  list(): readonly Core[];
  /** Every row that was ever written for the core, oldest first; empty when there is no such core. */
  history(coreId: number): readonly Core[];
}
