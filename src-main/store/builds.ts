import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Build, BuildFields, Winding, WindingFields } from '../../src-shared/record/build.ts';

/** The states of the cores' windings. */
export interface Builds {
  /** Adds the core's next build, numbered in order, with its windings. `not-found` when there is no such core. */
  add(coreId: number, fields: BuildFields, windings: readonly WindingFields[]): Outcome<Build>;
  /** A further winding. `not-found`; `build-in-use` when a run was made on the build. */
  addWinding(buildId: number, fields: WindingFields): Outcome<Winding>;
  /**
   * Writes a row that replaces the winding's latest one, with the reason. `not-found`; `build-in-use` when a run was
   * made on its build and more would change than what a measurement found out (src-shared/record/winding-change.ts).
   */
  reviseWinding(windingId: number, reason: string, fields: WindingFields): Outcome<Winding>;
  /** The build with the latest row of each winding; null when there is no such build. */
  get(buildId: number): Build | null;
  /** The core's builds in order; empty when there is no such core. */
  listOf(coreId: number): readonly Build[];
  /** The build that the winding belongs to; null when there is no such winding. */
  ofWinding(windingId: number): Build | null;
  /** Every row that was ever written for the winding, oldest first. */
  windingHistory(windingId: number): readonly Winding[];
}
