import type { BenchFacts, ChannelKind, SetUp } from '../interlock/bench.ts';
import type { CautionId } from '../interlock/cautions.ts';
import type { ChecklistId, Circumstance } from '../interlock/check.ts';
import type { CheckId } from '../interlock/checks.ts';
import type { ProposedLimits } from '../interlock/limit.ts';
import type { Coupling, MeterUnit } from '../meter/unit.ts';
import type { WindingFields } from '../record/build.ts';
import type { SupplyKind } from '../record/session.ts';
import type { Answers, Field } from './field.ts';
import type { RunMaterial, Work } from './material.ts';

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

/** The step of the job that a procedure belongs to, in the order of the job. */
export const jobSteps = ['survey', 'find-the-turns', 'prove'] as const;
export type JobStep = (typeof jobSteps)[number];

/**
 * What a run keeps: `pairs` of two voltages for the turns; `points`, the settled values of its channels at one moment;
 * or the continuous `readings` themselves, with points beside them where somebody wants one.
 */
export type Keeps = 'pairs' | 'points' | 'readings';

/** A kind of test: what it reads, what it asks before power, what bounds it, and what it comes to. */
export interface Procedure {
  readonly id: string;
  readonly title: string;
  /** One sentence: what a person gets from it. */
  readonly purpose: string;
  readonly step: JobStep;
  /** Whether the test object is powered. */
  readonly energised: boolean;
  readonly channels: readonly ProcedureChannel[];
  readonly checklists: (supply: SupplyKind, answers: Answers) => readonly ChecklistId[];
  /** Circumstances that do not apply by these answers; what was not answered applies. */
  readonly ruledOut: (answers: Answers) => readonly Circumstance[];
  /** The check that says: ranges are locked and readings are above 5 % of them. Null where none asks it. */
  readonly rangeCheck: CheckId | null;
  /** One meter may be moved between its channels. */
  readonly oneMeterWillDo: boolean;
  /** Answered once at set-up. */
  readonly asks: readonly Field[];
  /** Answered with each kept point. */
  readonly fields: readonly Field[];
  /** The field that names a point, where each point is a result of its own; null where points make one together. */
  readonly eachPoint: string | null;
  /** Why it cannot be chosen on this bench yet, as a sentence; null when it can. */
  readonly notYet: (bench: BenchFacts) => string | null;
  /** Why these answers will not do on this bench, with the field; null when they will. */
  readonly refuses: (
    bench: BenchFacts,
    answers: Answers,
    filled: ReadonlySet<string>,
  ) => { readonly field: string; readonly sentence: string } | null;
  /** What the program itself sees of the checks that it decides, from set-up and answers. */
  readonly seen: (setUp: SetUp, answers: Answers) => Readonly<Partial<Record<CheckId, boolean>>>;
  /** Default limits on this bench; a person may tighten them, and loosening asks a reason. */
  readonly limits: (bench: BenchFacts, touchVolts: number, answers: Answers) => ProposedLimits;
  /** Cautions that can show while it is in hand; where and when is theirs to say. */
  readonly cautions: readonly CautionId[];
  /** What to do, in order. */
  readonly steps: (supply: SupplyKind, method: Method) => readonly Step[];
  readonly keeps: Keeps;
  /** The calculation that its kept readings go into. */
  readonly calculation: string;
  /** What the run comes to; never called for pairs. Channels whose continuous readings it wants are `continuous`. */
  readonly work: (material: RunMaterial) => Work;
  readonly continuous: readonly string[];
}

/** What most procedures have in common: nothing asked, nothing refused, nothing seen. */
export const usual = {
  ruledOut: () => [],
  rangeCheck: null,
  oneMeterWillDo: false,
  asks: [],
  fields: [],
  eachPoint: null,
  notYet: () => null,
  refuses: () => null,
  seen: () => ({}),
  continuous: [],
} as const satisfies Partial<Procedure>;

/** The cautions of anything that is powered. */
export const poweredCautions = [
  'c-unknown',
  'c-step',
  'c-pins',
  'c-core',
  'c-rcd',
  'c-var',
  'c-lamp',
  'c-inrush',
  'c-trip',
  'c-still',
] as const satisfies readonly CautionId[];

/** Steps written as texts, numbered by their place. */
export const inOrder = (...texts: readonly string[]): readonly Step[] =>
  texts.map((text, index) => ({ id: `step-${index + 1}`, text }));
