/**
 * What can end a check or a proof: `pow` power declared on, `plug` plugged in, `wire` wiring changed,
 * `supply` supply or the kind of its setting changed, `build` winding or core state changed, `move` transformer moved,
 * opened or re-clamped, `meter` meter, jack, lead or range changed, `load` load changed, `away` left the bench, `hand`
 * another person took over, `trip` a limit was crossed, `restart` program restarted, `volts` volts seen while not live,
 * `sess` session ended.
 */
export const invalidatingEvents = [
  'pow',
  'plug',
  'wire',
  'supply',
  'build',
  'move',
  'meter',
  'load',
  'away',
  'hand',
  'trip',
  'restart',
  'volts',
  'sess',
] as const;
export type InvalidatingEvent = (typeof invalidatingEvents)[number];

/** The checklists, by the letter they have in the trade. */
export const checklistIds = ['PD', 'B', 'T1', 'T1-base', 'P', 'T2', 'N', 'S', 'H', 'L', 'X', 'K', 'R', 'I'] as const;
export type ChecklistId = (typeof checklistIds)[number];

/** A circumstance that makes a check a must. It counts as true until somebody says that it is not so. */
export const circumstances = [
  /** Build or place changed since power was last on: never ruled out by hand, the guard knows it. */
  'built-or-moved-since-power',
  'turns-added',
  'temporary-turns',
  'resistance-method',
  'windings-paralleled',
  'test-source-over-10-ma',
  'winding-under-2-ohm',
] as const;
export type Circumstance = (typeof circumstances)[number];

/** What a check asks: a must holds up power, a should is answered or passed over with a reason. */
export type Weight = 'must' | 'should' | { readonly kind: 'must-if'; readonly circumstance: Circumstance };

/** How long a confirmed check stands when nothing happens. Every kind but `once` also ends by time. */
export type Holds =
  /** Minutes; with `whileNotLive` the time that power was declared on does not count. */
  | { readonly kind: 'time'; readonly whichTime: 'proof' | 'bench'; readonly whileNotLive: boolean }
  /** Until an event that ends it, 12 hours at most. */
  | { readonly kind: 'setup' }
  /** Until the session ends, 24 hours at most. */
  | { readonly kind: 'day' }
  /** As long as what the program sees says so. */
  | { readonly kind: 'auto' }
  /** Part of one proof: read within 5 minutes of the circuit, it then stands as long as that proof. */
  | { readonly kind: 'proof-pair' }
  /** Until an event that ends it. */
  | { readonly kind: 'once' }
  /** For one use: one sweep, one point, one measurement. Power declared on or off ends it. */
  | { readonly kind: 'each' };

/** Who can decide a check: the person by a tick, the program by what it sees, or a proof of dead. */
export type DecidedBy = 'person' | 'program' | 'proof';

/** When a check can be answered; only those for before power hold up *ready*. */
export type When = 'before-power' | 'during' | 'after-power';

/** One line of a checklist. */
export interface Check {
  readonly id: string;
  /** The line as the screen shows it. */
  readonly text: string;
  readonly weight: Weight;
  readonly holds: Holds;
  readonly invalidatedBy: readonly InvalidatingEvent[];
  readonly decidedBy: DecidedBy;
  readonly when: When;
}
