import type { CheckId } from './checks.ts';
import type { RatingRefusal } from './rating.ts';
import type { GuardKind } from './why.ts';

/** Codes without numbers. */
type PlainRefusal =
  | 'no-session'
  | 'session-open'
  | 'no-set-up'
  | 'not-energised'
  | 'hold-not-begun'
  | 'proof-begun'
  | 'no-proof-begun'
  | 'another-meter'
  | 'another-instrument'
  | 'range-not-locked'
  | 'another-range'
  | 'low-impedance-not-asked'
  | 'low-impedance-asked'
  | 'practice-does-not-count'
  | 'grade-needs-full-proof'
  | 'metal-needs-full-proof'
  | 'no-series'
  | 'fall-not-seen'
  | 'must-not-skipped'
  | 'reason-needed'
  | 'low-voltage-list-refused'
  | 'base-list-missing'
  | 'channel-not-known'
  | 'unreadable'
  | 'power-not-declared'
  | 'not-proved-dead'
  | 'plug-out-first';

/** Why an event was not accepted: a closed code and the numbers involved. Added to, never renamed. */
export type Refusal =
  | { readonly code: PlainRefusal }
  | { readonly code: 'stale'; readonly sent: number; readonly current: number }
  /** The event belongs to another state. */
  | { readonly code: 'not-in-this-state'; readonly state: GuardKind }
  | { readonly code: 'power-is-on'; readonly state: 'live' | 'tripped' }
  | { readonly code: 'not-ready'; readonly missing: readonly string[] }
  | { readonly code: 'hold-too-short' | 'hold-too-long'; readonly heldMs: number; readonly limitMs: number }
  | {
      readonly code: 'not-asked' | 'seen-by-program' | 'needs-proof' | 'not-seen-by-program';
      readonly checkId: CheckId;
    }
  | { readonly code: 'checks-first'; readonly checkIds: readonly CheckId[] }
  | { readonly code: 'another-step'; readonly next: number; readonly sent: number }
  | { readonly code: 'another-coupling'; readonly asked: 'ac' | 'dc'; readonly sent: string }
  | {
      readonly code: 'known-too-low';
      readonly coupling: 'ac' | 'dc';
      readonly volts: number;
      readonly lowestVolts: number;
    }
  | { readonly code: 'known-too-long-ago'; readonly minutes: number; readonly limitMinutes: number }
  | { readonly code: 'proof-meter-unrated'; readonly maxVolts: number | null; readonly neededVolts: number }
  | { readonly code: 'volts-still-there'; readonly channel: string; readonly volts: number | null }
  | {
      readonly code: 'out-of-bounds';
      readonly what: string;
      readonly value: number | null;
      readonly lowest: number | null;
      readonly highest: number | null;
    }
  | { readonly code: 'limit-missing' | 'limit-not-known'; readonly channel: string }
  /** Another meter on the circuit while power is declared on. */
  | { readonly code: 'leads-on-circuit'; readonly channel: string }
  | { readonly code: 'loosened-while-live'; readonly what: readonly string[] }
  | { readonly code: 'meter-missing'; readonly channel: string; readonly label: string }
  | { readonly code: 'meter-twice'; readonly meterId: number; readonly label: string }
  | { readonly code: 'practice-meter'; readonly meterId: number; readonly label: string }
  | { readonly code: 'wrong-unit'; readonly channel: string; readonly sent: string | null; readonly asked: string }
  | RatingRefusal;
