import type { HighestVolts } from './bench.ts';
import type { InvalidatingEvent } from './check.ts';
import type { CheckId } from './checks.ts';

export const guardKinds = ['unproved', 'isolated', 'ready', 'live', 'tripped', 'proving'] as const;
export type GuardKind = (typeof guardKinds)[number];

/** How dead was proved. The last two prove less than all of it, and say so. */
export const proofKinds = ['meter', 'indicator', 'plug-out-low-volts', 'between-points'] as const;
export type ProofKind = (typeof proofKinds)[number];

/** Why a confirmed check does not stand any more. */
export type LapseCause =
  | { readonly kind: 'time'; readonly minutes: number }
  | { readonly kind: 'event'; readonly event: InvalidatingEvent }
  | { readonly kind: 'withdrawn'; readonly by: string }
  /** What the program sees does not bear it out any more. */
  | { readonly kind: 'not-seen-any-more' }
  /** The volts of the windings are computed anew: the table that was read is another one. */
  | { readonly kind: 'new-volts-table' }
  /** A set-up for which it says something else, or power declared on or off after its one use. */
  | { readonly kind: 'used-up' }
  | { readonly kind: 'new-proof-needed' }
  /** The clock stepped back, or the computer slept: nobody knows how long it has stood. */
  | { readonly kind: 'clock' };

/** The end of one confirmed check. */
export interface Lapse {
  readonly checkId: CheckId;
  readonly atMs: number;
  readonly cause: LapseCause;
}

/** What a proof of dead failed on. */
export type ProofFailure =
  | {
      readonly code: 'known-wrong';
      readonly coupling: 'ac' | 'dc';
      readonly declaredVolts: number;
      readonly readVolts: number | null;
      readonly before: boolean;
    }
  | { readonly code: 'indicator-dark'; readonly before: boolean }
  /** `volts` null: an indicator lit, or the meter was beyond its range. */
  | {
      readonly code: 'volts-found';
      readonly where: string;
      readonly volts: number | null;
      readonly coupling: 'ac' | 'dc' | 'both';
      readonly thresholdVolts: number;
    };

/** What tripped a run. Values are in the channel's unit; `value` null: beyond the meter's range. */
export type Trip =
  | {
      readonly code: 'limit';
      readonly channel: string;
      readonly label: string;
      readonly unit: string;
      readonly bound: 'min' | 'max';
      readonly value: number | null;
      readonly limit: number;
    }
  | {
      readonly code: 'rise';
      readonly channel: string;
      readonly label: string;
      readonly unit: string;
      readonly perMinute: number;
      readonly limit: number;
    }
  | { readonly code: 'run-time'; readonly limitSeconds: number }
  /** `meter`: the only meter on a limited channel is quiet; `typed`: nothing was typed for four intervals. */
  | {
      readonly code: 'silence';
      readonly channel: string;
      readonly label: string;
      readonly source: 'meter' | 'typed';
      readonly seconds: number;
      readonly limitSeconds: number;
    }
  /** The computer slept with power on: nothing watched. */
  | { readonly code: 'slept'; readonly seconds: number }
  /** Power is on under the low-voltage checks, and a winding turns out to be unknown or over the touch bound. */
  | { readonly code: 'grade-rose'; readonly highest: HighestVolts };

/** Why the guard is in the state that it is in: a closed code and the numbers involved. */
export type Why =
  | { readonly code: 'begun' }
  | { readonly code: 'session-opened' }
  | { readonly code: 'session-ended' }
  | { readonly code: 'restarted'; readonly was: GuardKind | null }
  | { readonly code: 'proved'; readonly proof: ProofKind }
  | { readonly code: 'proof-failed'; readonly failure: ProofFailure }
  | { readonly code: 'proof-begun' }
  | { readonly code: 'lapsed'; readonly lapses: readonly Lapse[] }
  | {
      readonly code: 'volts-seen';
      readonly channel: string;
      readonly label: string;
      readonly volts: number | null;
      readonly coupling: 'ac' | 'dc' | 'both';
      readonly thresholdVolts: number;
      readonly was: GuardKind;
    }
  | { readonly code: 'all-confirmed'; readonly by: string }
  | { readonly code: 'declared-on'; readonly by: string }
  | { readonly code: 'tripped'; readonly trip: Trip }
  | { readonly code: 'declared-off'; readonly by: string; readonly was: 'live' | 'tripped' }
  /** Somebody said "power is off" when the guard knew of no power: so it may have been on. */
  | { readonly code: 'off-without-on'; readonly by: string; readonly was: 'isolated' | 'ready' }
  | { readonly code: 'set-up-changed' }
  | { readonly code: 'meter-quiet'; readonly channel: string; readonly label: string; readonly seconds: number }
  | { readonly code: 'grade-rose'; readonly highest: HighestVolts }
  | { readonly code: 'clock-stepped'; readonly backMs: number };
