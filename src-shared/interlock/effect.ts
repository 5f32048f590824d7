import type { CheckId } from './checks.ts';
import type { Lapse, GuardKind, Trip, Why } from './why.ts';
import type { Refusal } from './refusal.ts';
import type { Alarm, GuardState } from './state.ts';
import type { GuardEvent } from './event.ts';

/** What main is to do after a change: plain data, in the order in which it is to be done. */
export type Effect =
  /** Write to the audit trail. `event` is null when time or a reading was the cause. */
  | {
      readonly kind: 'record';
      readonly event: GuardEvent | null;
      readonly from: GuardKind;
      readonly to: GuardKind;
      readonly why: Why;
      readonly revision: number;
    }
  /** Write the mark of one check. */
  | {
      readonly kind: 'check';
      readonly checkId: CheckId;
      readonly mark: 'confirmed' | 'seen-by-program' | 'passed-over' | 'lapsed';
      readonly who: string;
      readonly lapse: Lapse | null;
      readonly reason: string | null;
    }
  /** Mark the run of this stretch of power as tripped. */
  | { readonly kind: 'run-tripped'; readonly trip: Trip }
  /** Tell every page at once. */
  | { readonly kind: 'alarm'; readonly alarm: Alarm }
  | { readonly kind: 'sound'; readonly sound: 'alarm' | 'tick' }
  /** A typed value is due. */
  | { readonly kind: 'remind'; readonly channel: string; readonly label: string }
  /** Musts that lapsed while power was on or the guard was ready: to be asked again. */
  | { readonly kind: 'notice'; readonly lapses: readonly Lapse[] };

/** How a reading is to be recorded. */
export type Acceptance =
  /** `marked`: read after a trip, while power still counts as on. */
  { readonly accepted: true; readonly marked: boolean } | { readonly accepted: false; readonly refusal: Refusal };

/** What an event comes to. */
export interface Reduced {
  readonly state: GuardState;
  /** Why the event was not accepted; the state may have changed all the same, through time or what was seen. */
  readonly refusal: Refusal | null;
  readonly effects: readonly Effect[];
  /** For `reading-seen` only: whether the recorder takes it. Null for every other event. */
  readonly acceptance: Acceptance | null;
}
