import type { PhysicalResult } from '../answer.ts';

/** What one unit carries. */
export interface UnitShare {
  readonly amps: PhysicalResult;
  /** Of its rated current. */
  readonly ratedPercent: PhysicalResult;
}

export interface BankResults {
  readonly openVolts: PhysicalResult;
  /** The largest current round the units with no load at all; only in parallel. */
  readonly circulatingAmps?: PhysicalResult;
  /** The most that can stand across the last link before it is closed; only in parallel. */
  readonly lastLinkVolts?: PhysicalResult;
  /** Only in parallel: proposed where the last link has under 1 % of the volts of every unit. */
  readonly closing?: 'propose' | 'do-not-close';
  /** What the units carry, in their order, at `sharingAtAmps`. */
  readonly sharing: readonly UnitShare[];
  /** The load asked for, else the limit. */
  readonly sharingAtAmps: number;
  /** Volts at the load; only with a load. */
  readonly loadVolts?: PhysicalResult;
  /** The largest load with no unit over its rated current. */
  readonly limitAmps: PhysicalResult;
}
