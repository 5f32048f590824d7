import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { MeterDescription } from '../../src-shared/meter/description.ts';

/** One row of a meter's description. */
export interface MeterRevision {
  readonly meterId: number;
  readonly revisionId: number;
  /** The row that this one replaces; null for the first. */
  readonly replaces: number | null;
  readonly reason: string | null;
  readonly wallMs: number;
  readonly description: MeterDescription;
  /** This row takes the meter off the list; the description stays as it was. */
  readonly retired: boolean;
}

/** The meters, as described by the person. */
export interface Meters {
  /** Adds a meter. */
  add(description: MeterDescription): Outcome<MeterRevision>;
  /** Writes a row that replaces the meter's latest one. `not-found`, also when the meter was retired. */
  revise(meterId: number, reason: string | null, description: MeterDescription): Outcome<MeterRevision>;
  /** Takes the meter off the list; its runs keep its description. `not-found`, also when it was retired before. */
  retire(meterId: number, reason: string): Outcome<MeterRevision>;
  /** The meter's latest row, retired or not; null when there is no such meter. */
  get(meterId: number): MeterRevision | null;
  /** The description as it was: what a run's channel names. */
  revision(revisionId: number): MeterRevision | null;
  /** The latest row of every meter that is not retired, in the order in which they were added. */
  list(): readonly MeterRevision[];
}
