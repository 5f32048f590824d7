import type { BenchFacts, ChannelKind } from '../interlock/bench.ts';
import type { CautionId } from '../interlock/cautions.ts';
import type { ChecklistId, Circumstance } from '../interlock/check.ts';
import type { CheckId } from '../interlock/checks.ts';
import type { ProposedLimits } from '../interlock/limit.ts';
import type { Coupling, MeterUnit } from '../meter/unit.ts';
import type { WindingFields } from '../record/build.ts';
import type { SupplyKind } from '../record/session.ts';

type WindingRole = WindingFields['role'];

/** A role in a run that a meter or the keyboard fills. */
export interface ProcedureChannel {
  readonly id: string;
  readonly label: string;
  readonly kind: ChannelKind;
  readonly unit: MeterUnit;
  /** The coupling that its meter must be on; null where there is none. */
  readonly coupling: Coupling | null;
  /** Channels with equal quantities can stand in for each other when one falls silent. */
  readonly quantity: string;
  readonly required: boolean;
  readonly cadence: 'repeated' | 'once';
  /** Which winding its meter is clipped to: a role, or whichever is fed; null for what is on none. */
  readonly on: WindingRole | 'fed' | null;
  /** Highest volts on its meter's inputs on this bench, in V; null when that is not known. */
  readonly volts: (bench: BenchFacts) => number | null;
}

/** How the two voltages of a pair are read. */
export type Method = 'two-meters' | 'one-meter';

/** One thing to do, in order, at the bench. */
export interface Step {
  readonly id: string;
  readonly text: string;
}

/** A kind of test: what it reads, what it asks before power, what bounds it, and what it comes to. */
export interface Procedure {
  readonly id: string;
  readonly title: string;
  /** One sentence: what a person gets from it. */
  readonly purpose: string;
  /** Whether the test object is powered. */
  readonly energised: boolean;
  readonly channels: readonly ProcedureChannel[];
  readonly checklists: (supply: SupplyKind) => readonly ChecklistId[];
  readonly ruledOut: readonly Circumstance[];
  /** The check that says: ranges are locked and readings are above 5 % of them. Null where none asks it. */
  readonly rangeCheck: CheckId | null;
  /** One meter may be moved between its channels. */
  readonly oneMeterWillDo: boolean;
  /** Default limits on this bench; a person may tighten them, and loosening asks a reason. */
  readonly limits: (bench: BenchFacts, touchVolts: number) => ProposedLimits;
  /** Cautions that can show while it is in hand; where and when is theirs to say. */
  readonly cautions: readonly CautionId[];
  /** What to do, in order. */
  readonly steps: (supply: SupplyKind, method: Method) => readonly Step[];
  /** The calculation that its kept readings go into. */
  readonly calculation: string;
}
